"""Tightness and purging: test pressures, movement of the gauge, verdicts."""
