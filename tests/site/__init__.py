"""The whole site."""
