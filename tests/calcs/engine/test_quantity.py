"""Shorter ways to a quantity and to a rounded number, against pint's own and Decimal's."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal

import pint
from hypothesis import example, given, settings
from hypothesis import strategies as st

from calcs.engine.rounding import round_half_up
from calcs.engine.units import Quantity
from tests.calcs.engine.plain_pint import plain_pint

THOROUGH = settings(max_examples=600, deadline=None, derandomize=True)
UNITS = (
    "", "percent", "ppm", "mbar", "kPa", "m**3/h", "litre/min", "kW", "degC", "delta_degC",
    "kelvin", "min", "inch", "percent/K", "kJ/kg", "1/percent",
)  # fmt: skip
NUMBERS = st.one_of(st.floats(-1e6, 1e6), st.integers(-50, 50), st.sampled_from([0.0, 1.0, 100.0]))
TIES = st.integers(-(10**7), 10**7).map(lambda whole: whole / 1000)


def outcome(make, registry, *given_values):
    """What came out, to the last digit, or the kind of the refusal."""
    try:
        found = make(registry, *given_values)
    except (pint.PintError, ValueError) as problem:
        return type(problem).__name__
    return repr(found.magnitude), dict(found._units), type(found.magnitude)


@THOROUGH
@given(NUMBERS, st.sampled_from(UNITS), st.sampled_from(UNITS))
def test_a_quantity_is_what_pint_makes_of_a_number_and_a_unit(value, unit, wanted):
    def of_text(make):
        return make(value, unit)

    def of_unit(make):
        return make(value, make(1.0, unit).units)

    def converted(make):
        return make(value, unit).to(wanted)

    for way in (of_text, of_unit, converted):
        assert outcome(way, Quantity) == outcome(way, plain_pint().Quantity)


@THOROUGH
@given(st.one_of(st.floats(-1e300, 1e300), TIES, TIES.map(lambda one: one * 5)), st.integers(-3, 9))
@example(2.675, 2)
@example(0.5, 0)
@example(-0.004, 2)
@example(-0.0, 1)
@example(1e22, 2)
@example(99999999999999.95, 1)
def test_a_number_is_rounded_as_decimal_rounds_what_is_written(value, places):
    context = Context(prec=400, rounding=ROUND_HALF_UP)
    rounded = Decimal(repr(value)).quantize(Decimal(1).scaleb(-places), context=context)
    assert round_half_up(value, places) == f"{abs(rounded) if rounded == 0 else rounded:f}"
