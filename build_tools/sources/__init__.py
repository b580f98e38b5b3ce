"""What authors write: read strictly, held against the rules, told where it is wrong."""
