"""The drawings."""
