"""Every unit that may be typed, and what each spelling of it means in this trade and this country.

The list is closed: pint knows thousands of units and sums of them, many of another country or of
another trade, and would take a slip of the finger for one of those.
"""

from __future__ import annotations

from collections.abc import Iterator

# Symbol: pint's name and the prefixes that it is met with.
_SYMBOLS = {
    "m": ("meter", "µmcdk"),
    "g": ("gram", "µmk"),
    "s": ("second", "m"),
    "h": ("hour", ""),
    "d": ("day", ""),
    "a": ("year", ""),
    "l": ("liter", "mcd"),
    "L": ("liter", "mcd"),
    "K": ("kelvin", ""),
    "Pa": ("pascal", "mhkM"),
    "bar": ("bar", "m"),
    "N": ("newton", "k"),
    "J": ("joule", "mkMG"),
    "W": ("watt", "mkM"),
    "Wh": ("watt_hour", "mkMG"),
    "V": ("volt", "µmk"),
    "A": ("ampere", "µmk"),
    "Ω": ("ohm", "mkM"),
    "ohm": ("ohm", "mkM"),
    "mol": ("mole", "mk"),
    "Hz": ("hertz", "kM"),
}
_PREFIXES = {
    "µ": "micro", "m": "milli", "c": "centi", "d": "deci",
    "h": "hecto", "k": "kilo", "M": "mega", "G": "giga",
}  # fmt: skip
# Symbols without prefixes, as the trade, pint and the data files write them.
_MORE_SYMBOLS = {
    "mb": "millibar",
    "C": "degree_Celsius", "degC": "degree_Celsius", "°C": "degree_Celsius",
    "F": "degree_Fahrenheit", "degF": "degree_Fahrenheit", "°F": "degree_Fahrenheit",
    "delta_degC": "delta_degree_Celsius", "Δ°C": "delta_degree_Celsius",
    "delta_degF": "delta_degree_Fahrenheit", "Δ°F": "delta_degree_Fahrenheit",
    "w": "watt",
    "Btu": "british_thermal_unit", "thm": "therm",
    "psi": "pound_force_per_square_inch", "lbf": "force_pound",
    "inHg": "inch_Hg", "mmHg": "millimeter_Hg", "atm": "standard_atmosphere",
    "in": "inch", '"': "inch", "ft": "foot", "yd": "yard", "lb": "pound", "oz": "ounce",
    "inWG": "inch_water_gauge", "inH2O": "inch_water_gauge",
    "mmWG": "millimetre_water_gauge", "mmH2O": "millimetre_water_gauge",
    "cc": "centimeter^3", "%": "percent", "deg": "degree", "°": "degree", "rad": "radian",
}  # fmt: skip
# Words, whatever their capitals: none of them is another unit in other letters.
_WORDS = {
    "meter": "metre metres meter meters",
    "millimeter": "millimetre millimetres millimeter millimeters",
    "centimeter": "centimetre centimetres centimeter centimeters",
    "kilometer": "kilometre kilometres kilometer kilometers",
    "micrometer": "micrometre micrometres micrometer micrometers",
    "inch": "inch inches ins",
    "foot": "foot feet",
    "yard": "yard yards",
    "gram": "gram grams gramme grammes",
    "kilogram": "kilogram kilograms kilogramme kilogrammes kilo kilos",
    "pound": "pound pounds lbs",
    "ounce": "ounce ounces",
    "second": "second seconds sec secs",
    "minute": "minute minutes min mins",
    "hour": "hour hours hr hrs",
    "day": "day days",
    "year": "year years",
    "liter": "litre litres liter liters ltr ltrs",
    "milliliter": "millilitre millilitres milliliter milliliters",
    "pascal": "pascal pascals",
    "hectopascal": "hectopascal hectopascals",
    "kilopascal": "kilopascal kilopascals",
    "megapascal": "megapascal megapascals",
    "millibar": "millibar millibars mbars",
    "bar": "bars",
    "newton": "newton newtons",
    "joule": "joule joules",
    "kilojoule": "kilojoule kilojoules",
    "megajoule": "megajoule megajoules",
    "watt": "watt watts",
    "kilowatt": "kilowatt kilowatts",
    "megawatt": "megawatt megawatts",
    "watt_hour": "watt_hour watthour watthours",
    "kilowatt_hour": "kilowatt_hour kilowatthour kilowatthours kwhr kwhrs",
    "megawatt_hour": "megawatt_hour megawatthour megawatthours",
    "british_thermal_unit": "british_thermal_unit btu btus bthu",
    "therm": "therm therms",
    "volt": "volt volts",
    "millivolt": "millivolt millivolts",
    "ampere": "ampere amperes amp amps",
    "milliampere": "milliampere milliamperes milliamp milliamps",
    "microampere": "microampere microamperes microamp microamps",
    "ohm": "ohms",
    "kiloohm": "kohm kiloohm kiloohms kilohm kilohms",
    "megaohm": "megaohm megaohms megohm megohms",
    "mole": "mole moles",
    "kilomole": "kilomole kilomoles",
    "hertz": "hertz",
    "kelvin": "kelvin kelvins",
    "degree_Celsius": "celsius centigrade degree_celsius degc",
    "degree_Fahrenheit": "fahrenheit degree_fahrenheit degf",
    "delta_degree_Celsius": "delta_degree_celsius",
    "delta_degree_Fahrenheit": "delta_degree_fahrenheit",
    "percent": "percent",
    "ppm": "ppm",
    "degree": "degree degrees",
    "radian": "radian radians",
    "standard_atmosphere": "standard_atmosphere",
    "pound_force_per_square_inch": "pound_force_per_square_inch",
    "force_pound": "force_pound",
    "inch_Hg": "inch_hg",
    "millimeter_Hg": "millimeter_hg",
    "inch_water_gauge": "inch_water_gauge",
    "millimetre_water_gauge": "millimetre_water_gauge",
    # The gallon and its parts are those of the Weights and Measures Act 1985, schedule 1. The ones
    # of the United States are a sixth less, a fluid ounce a twenty-fifth more.
    "imperial_gallon": "imperial_gallon imperial_gal gal gals gallon gallons",
    "imperial_quart": "imperial_quart imperial_qt qt quart quarts",
    "imperial_pint": "imperial_pint imperial_pt pt pint pints",
    "imperial_fluid_ounce": "imperial_fluid_ounce imperial_floz floz",
    # Rates that go by their first letters.
    "liter/minute": "lpm",
    "foot^3/hour": "cfh cuftph",
    "foot^3/minute": "cfm",
    "imperial_gallon/minute": "gpm",
    "british_thermal_unit/hour": "btuh bthuh",
}
_CUBIC = ("cu", "cubic", "cub")
_SQUARE = ("sq", "square")
_LENGTHS = {
    "meter": "m metre metres meter meters",
    "centimeter": "cm centimetre centimetres centimeter centimeters",
    "millimeter": "mm millimetre millimetres millimeter millimeters",
    "inch": "in ins inch inches",
    "foot": "ft foot feet",
    "yard": "yd yds yard yards",
}
_WATER = ("wg", "h2o", "water", "watergauge", "ofwater", "ofwatergauge", "wc", "watercolumn")
_DEGREES = ("deg", "degree", "degrees", "°")
_UK = ("uk", "imp", "imperial")
# Spellings that mean one thing here and another elsewhere, or several: nobody should guess.
_REFUSED = {
    "That measure has several sizes. Use litres, ml, UK pints or UK gallons.": (
        "cup cups gill gills bbl barrel barrels bushel bushels peck pecks tsp teaspoon teaspoons "
        "tbsp tablespoon tablespoons dram drams minim minims hogshead"
    ),
    "That is a measure of the United States. Convert it to litres first.": (
        "usgal usgallon usgallons uspt uspint uspints usqt usquart usquarts usfloz usfluidounce "
        "usfluidounces usgpm"
    ),
    "That weight has several sizes. Use kilograms.": "ton tons cwt hundredweight",
    "Horsepower has several sizes. Use kW.": "hp bhp horsepower ps cv",
    "The calorie has several sizes. Use kJ, MJ or kWh.": (
        "cal kcal calorie calories kilocalorie kilocalories"
    ),
    "There M is a thousand to some and a million to others. Write the number out.": (
        "mbh mbtu mmbtu mcf mmcf mbtuh"
    ),
    "Multiply it by a hundred and write cubic feet.": "hcf ccf",
    "Whether it is gauge or absolute is said by the field. Leave the letter out.": (
        "psig barg mbarg bargauge mbargauge psia bara mbara"
    ),
    "A volume is taken as metered. Write the unit without its state.": (
        "scfh scfm nm^3 nm3 sm^3 sm3 scm"
    ),
}


def _symbols() -> dict[str, str]:
    found = dict(_MORE_SYMBOLS)
    for symbol, (name, prefixes) in _SYMBOLS.items():
        found[symbol] = name
        found |= {f"{prefix}{symbol}": f"{_PREFIXES[prefix]}{name}" for prefix in prefixes}
    return found


def _words() -> dict[str, str]:
    """The words, and pint's own name of every symbol: answers are worked out in those."""
    own = {name.lower(): name for name in _symbols().values() if name.replace("_", "").isalpha()}
    return own | {word: name for name, words in _WORDS.items() for word in words.split()}


def _case_slips(symbols: dict[str, str]) -> dict[str, str]:
    """By `folded` symbol: "KW" can only be kW. One letter alone may be anything.

    A small m may be a slip for M wherever both are units, so those have none: "mpa", "mw".
    """
    found: dict[str, set[str]] = {}
    for symbol, name in symbols.items():
        is_one_of_two = symbol[0] == "m" and f"M{symbol[1:]}" in symbols
        if len(symbol) > 1 and not is_one_of_two:
            found.setdefault(folded(symbol), set()).add(name)
    return {spelt: names.pop() for spelt, names in found.items() if len(names) == 1}


def folded(text: str) -> str:
    """Small letters, but for M: mega is not milli.

    >>> folded("KPa"), folded("MW")
    ('kpa', 'Mw')
    """
    return "".join(letter if letter == "M" else letter.lower() for letter in text)


def _phrases() -> Iterator[tuple[str, str]]:
    """Spellings of several words, without what stands between them."""
    for name, words in _LENGTHS.items():
        for word in words.split():
            yield from ((f"{cubic}{word}", f"{name}^3") for cubic in _CUBIC)
            yield from ((f"{square}{word}", f"{name}^2") for square in _SQUARE)
            yield from ((f"{word}{times}", f"{name}^{power}")
                        for times, power in (("cubed", 3), ("squared", 2)))  # fmt: skip
    for name, heights in (
        ("inch_water_gauge", [*_LENGTHS["inch"].split(), '"']),
        ("millimetre_water_gauge", _LENGTHS["millimeter"].split()),
    ):
        yield from ((f"{height}{water}", name) for height in heights for water in _WATER)
    for degrees in _DEGREES:
        yield from ((f"{degrees}{c}", "degree_Celsius") for c in ("c", "celsius", "centigrade"))
        yield from ((f"{degrees}{f}", "degree_Fahrenheit") for f in ("f", "fahrenheit"))
    for volume in ("gallon", "quart", "pint"):
        name = f"imperial_{volume}"
        yield from ((f"{uk}{word}", name) for uk in _UK for word in _WORDS[name].split())
    for ounce in ("floz", "fluidounce", "fluidounces", "fluidoz"):
        yield from ((f"{uk}{ounce}", "imperial_fluid_ounce") for uk in ("", *_UK))
    yield from (("partspermillion", "ppm"), ("percent", "percent"), ("kwh", "kilowatt_hour"))
    yield from ((f"kilowatthour{s}", "kilowatt_hour") for s in ("", "s"))
    yield from ((f"inch{es}ofmercury", "inch_Hg") for es in ("", "es"))
    yield from ((f"lb{f}/{inch}", "pound_force_per_square_inch")
                for f in ("", "f") for inch in ("in^2", "in2", "sqin"))  # fmt: skip


SYMBOLS = _symbols()
WORDS = _words()
CASE_SLIPS = _case_slips(SYMBOLS)
PHRASES = dict(_phrases())
# Small letters without spaces: why it is refused.
REFUSED = {word: why for why, words in _REFUSED.items() for word in words.split()}
