"""Finds a number with a unit in a text: a figure that belongs in `data/`."""

import re
from functools import cache

# Longer spellings first: an alternative that fits ends the search.
UNITS = (
    "mbar|kPa|hPa|MPa|Pa|psi|bar|inches|inch|inWG|mmWG|in w.g.|"
    "mm²|cm²|mm³|cm³|mm2|cm2|cm3|ft³|ft3|m³|m²|m3|m2|m\\*\\*3|ft\\*\\*3|"
    "mm|cm|km|feet|foot|ft|yd|litres|litre|gallons|gallon|ml|"
    "seconds|second|secs|sec|minutes|minute|mins|min|hours|hour|hr|days|day|weeks|week|"
    "months|month|years|year|kWh|kW|MW|MJ|kJ|BTU|Btu|therms|therm|kg|"
    "ppm|percent|per cent|°C|°F|degC|degrees|degree|mA|µA|uA|mV|kV|kΩ|ohms|ohm|Hz|rpm|dB|"
    "turns|turn|%|‰|K|W|J|A|V|Ω|m|s|h|l|L|g|t"
)
# Not inside a longer word or number: "BS 6891:2015", "26(9)", "G20" and "U6" hold no figure.
FIGURE = re.compile(
    rf"(?<![\w.:/])[-−+±]?\d+(?:[.,]\d+)*(?:\s?(?:to|–|-|×)\s?\d+(?:[.,]\d+)*)?"
    rf"(?:\s|\N{{NO-BREAK SPACE}}|-)?(?:{UNITS})(?![\w])",
)


@cache
def figures(text: str) -> tuple[str, ...]:
    """Every number with a unit in a text, as written.

    >>> figures("Between 7 and 10 mbar for 1 min, see BS 6891:2015.")
    ('10 mbar', '1 min')
    """
    return tuple(found.group() for found in FIGURE.finditer(text))
