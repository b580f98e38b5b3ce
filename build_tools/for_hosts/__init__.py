"""The test of what a host lays over the handbook: its figures, questions and pages."""
