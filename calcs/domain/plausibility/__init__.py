"""Slips of the pen, and what an ordinary reading would be."""
