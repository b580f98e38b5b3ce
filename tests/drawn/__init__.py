"""Visits that are drawn with a seed, and what must be said of each figure in them."""
