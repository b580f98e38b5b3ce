"""Measures the handbook and the tools that make it."""
