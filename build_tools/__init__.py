"""The machinery: reads content and data, asks calcs, writes pages."""
