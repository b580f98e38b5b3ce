"""The parts of the command `bench`, one for each kind of figure."""
