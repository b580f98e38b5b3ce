"""The order of the work, as the pages give it."""
