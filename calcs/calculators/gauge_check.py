"""Gauge check: a gauge against a reference gauge at several pressures."""

from __future__ import annotations

from typing import Any

from calcs.domain.sensors.gauge_findings import (
    LIMIT,
    PERIOD,
    Point,
    error_numbers,
    judge,
    uncertainties_of,
)
from calcs.engine.declarations import (
    STATED,
    WRITTEN,
    Calculator,
    Choice,
    Cite,
    Day,
    Input,
    Instrument,
    Output,
    Rows,
    TableShape,
    When,
)
from calcs.engine.traced import named
from calcs.engine.traced_functions import square_root
from calcs.engine.units import Q, Quantity


def gauge_check(
    *,
    points: tuple[Point, ...],
    zero_reading: Q | None = None,
    last_difference: Q | None = None,
    expanded_gauge: Q | None = None,
    expanded_reference: Q | None = None,
) -> dict[str, Q | None]:
    """Difference between two gauges on one pressure, weighed against the uncertainty about both.

    Args:
        points: `reference` and `gauge` read together. [mbar]
        zero_reading: What the gauge shows open to the air. [mbar]
        last_difference: Greatest difference written down at the last check. [mbar]
        expanded_gauge: Expanded uncertainty (k = 2) of the gauge, from its certificate. [mbar]
        expanded_reference: The same of the reference gauge. [mbar]

    Returns:
        greatest_difference: Gauge less reference where they differ most. [mbar]
        uncertainty_gauge: Uncertainty about the gauge at the point that fits worst. [mbar]
        uncertainty_reference: Uncertainty about the reference there. [mbar]
        difference_there: Size of the difference there. [mbar]
        error_number: Difference as a share of the joint uncertainty, where it fits worst. []
        difference_beyond_zero: Greatest difference less the reading at zero. [mbar]
        drift: Greatest difference less that of the last check. [mbar]

    Not covered: pressures between the points, hysteresis, and temperature of the gauge.

    >>> found = gauge_check(
    ...     points=({"reference": Quantity(20, "mbar"), "gauge": Quantity(20.25, "mbar")},),
    ...     expanded_gauge=Quantity(0.4, "mbar"),
    ...     expanded_reference=Quantity(0.3, "mbar"),
    ... )
    >>> found["greatest_difference"].magnitude, round(found["error_number"].magnitude, 12)
    (0.25, 0.5)
    """
    differences = [point["gauge"] - point["reference"] for point in points]
    greatest = max(differences, key=abs)
    found: dict[str, Q | None] = {"greatest_difference": greatest}
    numbers = error_numbers(points, expanded_gauge, expanded_reference)
    known = [number for number in numbers if number is not None]
    if known:
        worst = numbers.index(max(known))
        uncertainties = uncertainties_of(points[worst], expanded_gauge, expanded_reference)
        found.update(_error_number(differences[worst], *uncertainties))
    if zero_reading is not None:
        found["difference_beyond_zero"] = greatest - zero_reading
    if last_difference is not None:
        found["drift"] = greatest - last_difference
    return found


def _error_number(difference: Q, of_gauge: float, of_reference: float) -> dict[str, Q]:
    """The sum for the point that fits worst. The uncertainty in it adds no width of its own."""
    size = named(abs(Quantity(difference.magnitude, difference.units)), "difference_there", "")
    gauge, reference = (
        named(Quantity(expanded_uncertainty, "Pa").to("mbar"), f"uncertainty_{name}", "")
        for name, expanded_uncertainty in (("gauge", of_gauge), ("reference", of_reference))
    )
    joint = square_root(gauge * gauge + reference * reference)
    return {
        "uncertainty_gauge": gauge,
        "uncertainty_reference": reference,
        "difference_there": size,
        "error_number": (size / joint).to(""),
    }


UNITS = ("Pa", "kPa", "bar", "inWG", "mmWG")
BY_U = When("uncertainty_from", ("certificate",))


def _pressure(name: str, low: float = 0, high: float = 5000, **more: Any) -> Input:
    return Input(name, "mbar", low, high, also=UNITS, **more)


CALCULATOR = Calculator(
    formula=gauge_check,
    inputs=(
        Rows(
            "points",
            (
                _pressure("reference", -1000, read_with="reference_gauge"),
                _pressure("gauge", -1000, read_with="gauge"),
            ),
            high=30,
        ),
        _pressure("zero_reading", -100, 100, optional=True, uncertainty=WRITTEN),
        Choice("uncertainty_from", ("instrument", "certificate"), default="instrument"),
        _pressure("expanded_gauge", high=100, when=BY_U, uncertainty=STATED),
        _pressure("expanded_reference", high=100, when=BY_U, uncertainty=STATED),
        _pressure("accepted_difference", high=100, optional=True, uncertainty=STATED),
        _pressure("last_difference", -100, 100, optional=True, uncertainty=WRITTEN),
        Day("calibrated_on"),
        Instrument("gauge", "pressure", "mbar", "digital_gauge_1dp", 100, (*UNITS, "percent")),
        Instrument(
            "reference_gauge", "pressure", "mbar", "digital_gauge_2dp", 100, (*UNITS, "percent")
        ),
    ),
    outputs=(
        Output("greatest_difference", "mbar", places=2),
        Output("error_number", "", places=2, no_uncertainty_reason="weighs_uncertainty"),
        Output("difference_beyond_zero", "mbar", places=2),
        Output("drift", "mbar", places=2),
    ),
    sources=(
        Cite("iso_13528", "9.7"),
        Cite("iso_iec_17043", "error number"),
        Cite("jcgm_100", "4.3.7 and 5.1.2"),
    ),
    uses=(LIMIT, PERIOD),
    judge=judge,
    verdicts=("agreement", "difference", "zero", "calibration"),
    notes=("drifted", "kilopascal"),
    rulings=(
        "no_uncertainty_known",
        "joint_too_coarse",
        "zero_off",
        "zero_holds",
        "only_nought",
        "step_too_coarse",
    ),
    refusals=("more_than_a_twentieth", "calibrated_later"),
    # A gauge that is off open to the air agrees at no pressure but by chance.
    rests_on={"agreement": ("zero",), "difference": ("zero",)},
    tables=(
        TableShape(
            "points",
            columns=(
                Output("reference", "mbar", places=2),
                Output("gauge", "mbar", places=2),
                Output("difference", "mbar", places=2),
                Output("error_number", "", places=2),
            ),
        ),
    ),
)
