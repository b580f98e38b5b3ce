"""The numbers themselves."""
