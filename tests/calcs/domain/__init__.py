"""Physics and tables of the trade."""
