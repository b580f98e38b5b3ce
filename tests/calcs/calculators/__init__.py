"""What holds for every calculator."""
