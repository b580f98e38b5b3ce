"""What knows no trade: quantities, what was typed, uncertainty, verdicts."""
