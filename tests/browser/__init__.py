"""The handbook in a real browser."""
