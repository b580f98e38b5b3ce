"""Set-up: standard library only, since it runs before anything is installed, on Python 3.9."""
