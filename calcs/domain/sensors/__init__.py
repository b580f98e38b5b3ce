"""Sensors: resistance and temperature."""
