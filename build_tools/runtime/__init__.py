"""The browser's Python: its wheels, its bundle, its snapshot."""
