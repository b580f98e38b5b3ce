"""Do the readings of one visit fit each other? Reconciled, tested, and what would explain it."""
