"""Gas: what it is made of, what it burns with, and how much a meter says was used."""
