"""Pipes: tubes and fittings, what they hold, what flows through them and what it loses."""
