"""One calculator a file; `calcs.registry` finds them by file name."""
