"""Units as they are typed: what each spelling means, by sources from outside, and what has none."""

from __future__ import annotations

import math
import time

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy import constants

from build_tools.sources.parse_value import measure_of
from calcs.engine.unit_names import PHRASES, REFUSED, SYMBOLS, WORDS
from calcs.engine.unit_reader import LONGEST, NoUnit, unit_name
from calcs.engine.units import Quantity, parse_unit, same_kind, unit_code, unit_text
from tests.calcs.engine.plain_pint import plain_pint
from tests.every_case import every_case

THOROUGH = settings(max_examples=400, deadline=None, derandomize=True)
# One of each in SI base units. The figures are printed in these documents:
#   SP 811: NIST Special Publication 811 (2008), appendix B.8 and B.9
#   WMA: Weights and Measures Act 1985, schedule 1 (the gallon is 4.546 09 dm³; a pint is an eighth,
#        a quart a quarter of it and a fluid ounce a twentieth of a pint)
#   SI: The International System of Units, 9th edition, tables 4, 7 and 8
#   1995/1804: Units of Measurement Regulations 1995, schedule (therm: 105.505 585 257 348 MJ)
MEANINGS = [
    (0.568261250e-3, "WMA", "pint, pints, pt, Pint, UK pint, imperial pint, imp. pint"),
    (1.136522500e-3, "WMA", "quart, quarts, qt, UK quart"),
    (28.4130625e-6, "WMA", "fl oz, fl. oz, fluid ounce, fluid ounces, floz, UK fl oz"),
    (4.54609e-3, "WMA", "gallon, gallons, gal, gals, UK gal, imperial gallon, Gal"),
    (4.54609e-3 / 60, "WMA", "gpm, gal/min, gallons per minute"),
    (0.02831685, "SP 811", "ft³, ft3, ft^3, ft**3, cu ft, cu. ft., cuft, cubic feet, cubic foot"),
    (0.02831685, "SP 811", "Cubic Feet, FT3, ft cubed"),
    (0.02831685 / 3600, "SP 811", "cfh, ft³/h, cu ft/h, cu ft per hour, cubic feet per hour, CFH"),
    (4.719474e-4, "SP 811", "cfm, ft3/min, cu ft/min, CFM"),
    (1.638706e-5, "SP 811", "in³, cu in, cubic inches"),
    (1, "SI", "m³, m3, m^3, cu m, cubic metre, cubic metres, cubic meters, metres cubed"),
    (1e-3, "SI", "l, L, litre, litres, liter, dm³, ltr, Litres, LITRES"),
    (1e-6, "SI", "ml, mL, cc, cm³, cu cm, millilitres"),
    (1e-3 / 60, "SI", "l/min, lpm, litres per minute, litres/min, L/min, LPM, l/mins"),
    (1 / 3600, "SI", "m³/h, m3/h, m³/hr, m3/hr, cu m/h, cubic metres per hour, m³ / h"),
    (1e-4, "SI", "cm², cm2, sq cm, sq. cm, square centimetres"),
    (1e-6, "SI", "mm², mm2, sq mm"),
    (6.4516e-4, "SP 811", "in², sq in, square inches"),
    (0.09290304, "SP 811", "ft², sq ft, square feet"),
    (0.0254, "SP 811", 'in, inch, inches, ins, in., ", ″, IN'),
    (0.3048, "SP 811", "ft, foot, feet, Ft"),
    (0.9144, "SP 811", "yd, yard, yards"),
    (1e-3, "SI", "mm, millimetres, millimeter"),
    (1e-6, "SI", "µm, μm, micrometre"),
    (0.45359237, "SP 811", "lb, lbs, pound"),
    (1, "SI", "s, sec, secs, second, seconds, Secs"),
    (60, "SI", "min, mins, minute, minutes, Min, MINS, mins."),
    (3600, "SI", "h, hr, hrs, hour, hours, Hrs"),
    (86400, "SI", "d, day, days"),
    (100, "SI", "mbar, mb, millibar, millibars, mBar, hPa, hpa"),
    (1e5, "SI", "bar, Bar, BAR, bars"),
    (1000, "SI", "kPa, kpa, KPa, KPA, Kpa, kilopascal"),
    (1, "SI", "Pa, pa, PA, N/m², pascals"),
    (249.0889, "SP 811", 'in w.g., inWG, inwg, in wg, "wg, " wg, ins wg, in. w.g., inches w.g.'),
    (249.0889, "SP 811", "inH2O, in H2O, inches of water, inches water gauge, in wc, In WG"),
    (9.80665, "SP 811", "mm w.g., mmWG, mm wg, mm H2O, mmH2O, mmH₂O, mm water"),
    (3386.389, "SP 811", "inHg, inches of mercury"),
    (133.3224, "SP 811", "mmHg"),
    (6894.757, "SP 811", "psi, PSI, lbf/in², lbf/in2, lb/in², lb/in2, lbf/sq in"),
    (101325, "SP 811", "atm"),
    (1055.056, "SP 811", "Btu, BTU, btu, Btus, BThU"),
    (0.2930711, "SP 811", "Btu/h, BTU/hr, btu/h, Btu per hour, Btuh, BTUH"),
    (105.505585257348e6, "1995/1804", "therm, therms, Therm, thm"),
    (3.6e6, "SI", "kWh, kwh, KWH, kW h, kW·h, kilowatt hours, kWhr"),
    (1000, "SI", "kW, KW, kw, Kw, kilowatt, kilowatts"),
    (1e6, "SI", "MW, Mw, megawatts"),
    (1e-3, "SI", "mW"),
    (1, "SI", "W, w, watts"),
    (1e6, "SI", "MJ, Mj, megajoules"),
    (1e-3, "SI", "mJ"),
    (1e6, "SI", "MJ/m³, MJ/m3, MJ per cubic metre, Mj/m3"),
    (37258.95, "SP 811", "Btu/ft³, Btu/cu ft, Btu per cubic foot"),
    (1000, "SI", "kΩ, kohm, kOhm, kilohms, KOHM"),
    (1e6, "SI", "MΩ, Mohm, MOhm, megohms"),
    (1e-6, "SI", "µA, μA, microamps"),
    (1e-3, "SI", "mA, mV, ma, mv"),
    (0.01, "SI", "%, percent, per cent, Per Cent"),
    (1e-6, "SI", "ppm, PPM, parts per million"),
    (math.pi / 180, "SI", "deg, °, degrees"),
]  # fmt: skip
SPELT = [
    pytest.param(one, size, id=f"{one} ({source})")
    for size, source, words in MEANINGS
    for one in words.split(", ")
]
# SP 811 prints seven digits; the regulations' therm is of the Btu with more digits than it has.
SEVEN_DIGITS = 4e-7


@every_case(("spelling", "size"), SPELT)
def test_a_spelling_means_what_the_source_says(spelling, size):
    found = Quantity(1.0, parse_unit(spelling)).to_base_units().magnitude
    assert math.isclose(found, size, rel_tol=SEVEN_DIGITS)


@every_case(
    ("spelling", "size"),
    [
        ("in", constants.inch), ("ft", constants.foot), ("yd", constants.yard),
        ("gal", constants.gallon_imp), ("fl oz", constants.fluid_ounce_imp),
        ("psi", constants.psi), ("mmHg", constants.mmHg), ("atm", constants.atm),
        ("lb", constants.lb), ("lbf", constants.lbf), ("oz", constants.oz),
        ("Btu", constants.Btu_IT), ("deg", constants.degree),
    ],
)  # fmt: skip
def test_a_unit_is_as_long_as_by_scipy(spelling, size):
    found = Quantity(1.0, parse_unit(spelling)).to_base_units().magnitude
    assert math.isclose(found, size, rel_tol=SEVEN_DIGITS)


# A thermometer's units: ISO 80000-5, items 5-1 and 5-2; SP 811, B.9.
@every_case(
    ("spelling", "kelvin"),
    [
        *((one, 293.15) for one in (
            "20 °C", "20 C", "20 degC", "20 deg C", "20 deg. C", "20 degrees C", "20 celsius",
            "20 Celsius", "20 degrees Celsius", "20 centigrade", "20 ºC", "20 ℃", "20 ° C",
        )),
        *((one, 293.15) for one in (
            "68 °F", "68 F", "68 degF", "68 deg F", "68 fahrenheit", "68 degrees Fahrenheit",
        )),
        *((one, 293.15) for one in ("293.15 K", "293.15 kelvin", "293.15 Kelvin")),
    ],
)  # fmt: skip
def test_a_temperature_is_read_on_its_scale(spelling, kelvin):
    number, _, unit = spelling.partition(" ")
    found = Quantity(float(number), parse_unit(unit)).to("kelvin").magnitude
    assert math.isclose(found, kelvin, rel_tol=1e-12)


NO_UNITS = [
    "m^(9^9^9)", "m**9**9", "m^99999", "m^9", "m^5", "m^0", "m^-5", "m^1.5", "m^(1/2)", "m^", "^2",
    "m^2^2", "9^9", "2", "10", "1e3", "1/2", "m/", "/m", "*m", "m*", "m//s", "m***2", "m/(s", "m)",
    "((m))", "m/((s))", "(m)", "a/b", "kJ/kg*K", "l/min*m", "m/s/m/s/m", "m m", "mbar mbar", "m.m",
    "mm,", "m;", "m\n m\x00", "_", "__class__", "ureg", "lambda: 0", "furlong", "furlongs",
    "parsec",
    "smoot", "rpm", "lightyear", "degR", "gee", "dB", "Da", "US_pint", "k", "M", "MM", "MBAR", "mw",
    "mpa", "mj", "mwh", "Mbar", "°K", "kW/", "kkW", "mkW", "hkPa", "µbar²²", "m⁹", "lpm/m", "m/lpm",
    "cfh*h", "1/", "1*m", "1/1", "delta_K", "½", "ｋＷ", "١", "x10", "<b>", "%%", "%%/", "+m", "-m",
]  # fmt: skip


@every_case("text", [*NO_UNITS, *REFUSED])
def test_what_is_no_unit_of_the_trade_is_refused(text):
    with pytest.raises(NoUnit):
        parse_unit(text)


@every_case("text", [word.upper() for word in REFUSED])
def test_a_unit_of_several_sizes_is_refused_with_the_reason(text):
    with pytest.raises(NoUnit) as refused:
        parse_unit(f"{text}/h")
    assert refused.value.why


LONG = st.sampled_from(
    ["m", "(", "^", "9", "**", "*", "/", "m^2/", "(m*", "((", "9^", "µ", " ", "²"]
)


@THOROUGH
@given(st.lists(LONG, min_size=1, max_size=400).map("".join))
@example("m^" + "(9^" * 100 + "9" + ")" * 100)
@example("(" * 100_000)
@example("m*" * 100_000 + "m")
@example("9**" * 50 + "9")
def test_no_text_keeps_the_calculator_busy(text):
    began = time.process_time()
    try:
        found = parse_unit(text)
    except NoUnit:
        pass
    else:
        assert len(text) <= LONGEST
        assert all(abs(power) <= 20 for power in found._units.values())
    assert time.process_time() - began < 0.5


@THOROUGH
@given(st.text(max_size=80))
def test_any_text_is_a_unit_or_none(text):
    try:
        name = unit_name(text)
    except NoUnit:
        return
    # What pint is handed is made of our own names: nothing of the text is worked out.
    words = name.replace("/", "*").split("*")
    known = {*SYMBOLS.values(), *WORDS.values(), *PHRASES.values(), "1", "dimensionless"}
    alone = {word.partition("^")[0] for one in known for word in one.split("/")}
    assert {word.partition("^")[0] for word in words} <= alone


PLAIN = st.sampled_from(
    ["m", "mm", "cm", "km", "ft", "inch", "kg", "g", "s", "min", "hour", "litre", "Pa", "kPa",
     "mbar", "bar", "J", "kJ", "MJ", "kWh", "W", "kW", "Btu", "mol", "kmol", "ohm", "ampere",
     "volt"]
)  # fmt: skip
POWERS = st.sampled_from(["", "**2", "**3", "^4", "**-1", "^-2"])
FACTOR = st.builds(str.__add__, PLAIN, POWERS)


@THOROUGH
@given(FACTOR, st.lists(FACTOR, max_size=2), st.booleans())
def test_a_product_is_what_pint_makes_of_it(upper, lower, brackets):
    below = f"({'*'.join(lower)})" if brackets and len(lower) > 1 else "/".join(lower)
    text = f"{upper}/{below}" if lower else upper
    if len(text) <= LONGEST:
        assert dict(parse_unit(text)._units) == dict(plain_pint().parse_units(text)._units)


@every_case("text", sorted({*SYMBOLS, *WORDS}))
def test_a_unit_is_read_again_as_it_is_shown(text):
    unit = parse_unit(text)
    assert parse_unit(unit_code(unit)) == parse_unit(str(unit)) == unit
    if not str(unit).startswith("delta_"):  # a difference of temperatures is shown in °C
        assert parse_unit(unit_text(unit)) == unit


def test_heat_of_a_volume_is_no_pressure():
    """Both are J/m³ to pint, and 2 MJ/m³ typed for a pressure would be 20 bar."""
    for heat in ("MJ/m³", "kWh/m³", "Btu/ft³", "therm/m³", "J/cm³"):
        assert same_kind(heat, "MJ/m³")
        for pressure in ("mbar", "Pa", "in w.g.", "psi", "N/m²"):
            assert not same_kind(heat, pressure)
            assert same_kind(pressure, "mbar")
    assert same_kind("J/s", "kW")
    assert measure_of("MJ/m³") != measure_of("mbar") == measure_of("N/m²")


def test_an_angle_is_no_share():
    """Neither has a dimension, and 35° typed for a share would be 61 %."""
    assert not same_kind("deg", "percent")
    assert not same_kind("", "rad")
    assert same_kind("deg", "rad")
    assert same_kind("ppm", "percent")
