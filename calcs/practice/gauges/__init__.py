"""Instruments that a question shows, to be read: drawn alike by the build and by the browser."""
