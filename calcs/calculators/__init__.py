"""One calculator a file; `calcs.engine.registry` finds them by file name."""
