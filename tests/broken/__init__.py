"""Files with faults, which the rules must find."""
