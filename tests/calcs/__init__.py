"""The doors of the calculators: requests, batches, the command line, charts."""
