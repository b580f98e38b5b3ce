"""Rows of proof, and the libraries that some of them ask."""
