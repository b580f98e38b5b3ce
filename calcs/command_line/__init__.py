"""What the command line of the calculators reads and says: words in, lines out."""
