"""One rule for authors in each file."""
