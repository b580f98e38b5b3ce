"""Flue gas: samples, heat, and what both say of the burner."""
