"""The browser's Python."""
