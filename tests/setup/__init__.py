"""Setting up a machine."""
