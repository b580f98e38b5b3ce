"""Small files in, and what a reader reads out."""
