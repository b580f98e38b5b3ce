"""What a step answers to what is typed in it."""
