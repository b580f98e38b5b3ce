"""For hosts: the test of what they lay over the handbook, and what a class made of a paper."""
