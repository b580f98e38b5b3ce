"""The handbook's formulas: quantities in, named quantities out."""
