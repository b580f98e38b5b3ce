"""Traced quantities: what the working says and what the uncertainty counts is what was computed."""

from __future__ import annotations

import math
import operator
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcs.engine.declarations import Output
from calcs.engine.traced import Traced, named
from calcs.engine.traced_functions import apply, largest, square_root
from calcs.engine.uncertainty import standard_uncertainty
from calcs.engine.units import Quantity, unit_code
from calcs.engine.working import steps
from tests.every_case import every_case

QUICK = settings(max_examples=50, deadline=None, derandomize=True)
POSITIVE = st.floats(0.1, 100)


def reading(name: str, value: float, unit: str = "mbar", uncertainty: float = 0.0) -> Traced:
    made = named(Quantity(value, unit), name, name.capitalize(), role="input")
    made.standard_uncertainty = Quantity(uncertainty, unit)
    return made


def symbols(value: Traced) -> str:
    answer = named(value, "answer", "Answer")
    (step,) = steps({"answer": answer}, (Output("answer", unit_code(value.units), 3),), {})
    return step["symbols"]


@pytest.mark.parametrize(
    ("formula", "written"),
    [
        (lambda a, b, c: a - (b - c), "A − (B − C)"),
        (lambda a, b, c: a - b - c, "A − B − C"),
        (lambda a, b, c: a + b + c, "A + B + C"),
        (lambda a, b, c: (a + b) * c, "(A + B) × C"),
        (lambda a, b, c: a / (b * c), "A ÷ (B × C)"),
        (lambda a, b, c: a / b / c, "A ÷ B ÷ C"),
        (lambda a, b, c: a / (b / c), "A ÷ (B ÷ C)"),
        (lambda a, b, c: a * square_root(b / c), "A × √(B ÷ C)"),
        (lambda a, b, c: (a + b) ** 2 / c, "(A + B) ^ 2 ÷ C"),
        (lambda a, b, c: -(a + b) / c, "−(A + B) ÷ C"),
        (lambda a, b, c: largest(a, b) - c, "the greater of (A, B) − C"),
        (lambda a, b, c: (a.to("Pa") + b) / c.to("kPa"), "(A + B) ÷ C"),
        (lambda a, b, c: 2 * a - b / c * a, "2 × A − B ÷ C × A"),
    ],
)
def test_symbols_keep_the_brackets_that_count_and_no_others(formula, written):
    a, b, c = (reading(name, value) for name, value in (("a", 9.0), ("b", 5.0), ("c", 2.0)))
    assert symbols(formula(a, b, c)) == written


@pytest.mark.parametrize(
    "in_place", [operator.iadd, operator.isub, operator.imul, operator.itruediv]
)
def test_an_in_place_operation_keeps_the_trace_and_leaves_the_operand(in_place):
    a, b = reading("a", 9.0, uncertainty=0.3), reading("b", 5.0, uncertainty=0.4)
    result = in_place(a, b)
    assert result is not a
    assert a.magnitude == 9.0
    assert standard_uncertainty(result) > 0


@QUICK
@given(POSITIVE, POSITIVE, POSITIVE, st.floats(0, 1), st.floats(0, 1), st.floats(0, 1))
def test_uncertainty_is_the_law_of_propagation(x, y, z, dx, dy, dz):
    """JCGM 100, 5.1.2, with the partial derivatives of a·√(b ÷ c) + b worked out by hand."""
    a, b, c = (
        reading("a", x, uncertainty=dx),
        reading("b", y, uncertainty=dy),
        reading("c", z, uncertainty=dz),
    )
    root = math.sqrt(y / z)
    by_hand = math.hypot(root * dx, (x / (2 * root * z) + 1) * dy, x * root / (2 * z) * dz)
    found = standard_uncertainty(a * square_root(b / c) + b)
    assert math.isclose(found, 100 * by_hand, rel_tol=1e-9, abs_tol=1e-12)  # in pascal


@QUICK
@given(POSITIVE, st.floats(0.01, 1))
def test_a_function_outside_symbols_is_differentiated_too(x, uncertainty):
    share = reading("share", x, unit="", uncertainty=uncertainty)
    found = standard_uncertainty(apply("ln", math.log, share))
    assert math.isclose(found, uncertainty / x, rel_tol=1e-6)


@QUICK
@given(POSITIVE, POSITIVE, st.floats(0.01, 1), st.floats(0.01, 1))
def test_slopes_that_are_given_count_as_those_that_are_found(x, y, dx, dy):
    both = reading("x", x, unit="", uncertainty=dx), reading("y", y, unit="", uncertainty=dy)

    def weighed(one: float, other: float) -> float:
        return 3 * one - 7 * other

    given = standard_uncertainty(apply("weighed", weighed, *both, slopes=(3.0, -7.0)))
    assert math.isclose(given, math.hypot(3 * dx, 7 * dy), rel_tol=1e-12)  # by hand
    found = standard_uncertainty(apply("weighed", weighed, *both))
    assert math.isclose(given, found, rel_tol=1e-6)


def test_a_reading_used_twice_counts_once():
    a = reading("a", 9.0, uncertainty=0.3)
    assert standard_uncertainty(a - a) == pytest.approx(0)
    assert standard_uncertainty(a + a) == pytest.approx(60)  # 2 × 0.3 mbar, in pascal


def test_a_plain_number_has_no_uncertainty():
    assert standard_uncertainty(Quantity(3, "mbar")) == 0


UNITS = ("mbar", "Pa", "kPa", "m**3/h", "percent", "", "kW", "MJ/m**3", "degC", "kelvin")
UNITS += ("delta_degC", "degF", "mm", "inch_water_gauge")
OPERATIONS = {
    "×": operator.mul,
    "÷": operator.truediv,
    "+": operator.add,
    "−": operator.sub,
    "<": operator.lt,
    "to": lambda left, right: left.to(right.units),
    "root": lambda left, _: square_root(left),
}


def outcome(operation, left, right):
    """What comes of it: a number with its unit, a yes or no, or the kind of refusal."""
    try:
        found = operation(left, right)
    except Exception as problem:  # noqa: BLE001
        return type(problem).__name__
    return found if isinstance(found, bool) else (found.magnitude, str(found.units))


@pytest.mark.parametrize("op", OPERATIONS)
def test_an_operation_gives_what_pint_gives_to_the_last_digit(op):
    """pint is the reference: the quick way of `unit_algebra` may never differ from it."""
    operation = OPERATIONS[op]
    for one in UNITS:
        for other in UNITS:
            left, right = Quantity(20.3, one), Quantity(7.7, other)
            wanted = outcome(operation, left, right)
            traced = named(left, "a", "A"), named(right, "b", "B")
            assert outcome(operation, *traced) == wanted, (one, other)
            assert outcome(operation, traced[0], right) == wanted, (one, other)


@every_case(("op", "unit"), product(["×", "÷", "+", "−"], UNITS))
def test_an_operation_with_a_pure_number_gives_what_pint_gives(op, unit):
    operation, plain = OPERATIONS[op], Quantity(20.3, unit)
    traced = named(plain, "a", "A")
    for number in (2, 0.3, 0):
        assert outcome(operation, traced, number) == outcome(operation, plain, number)
        assert outcome(operation, number, traced) == outcome(operation, number, plain)
