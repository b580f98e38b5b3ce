"""What every calculator runs in: reading, quantities, uncertainty, verdicts. It knows no trade."""
