"""What calculators are made of: pipes, gas, combustion, flues, tightness, water and air."""
