"""Reading and checking what authors write."""
