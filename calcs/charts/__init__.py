"""What the charts of each calculator are made of, one file for each stem."""
