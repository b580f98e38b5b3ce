"""Reading verdict: any reading against any limit, with the uncertainty of its instrument."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

from calcs.domain.plausibility.reading_and_limits import check_kind, check_reading
from calcs.engine.declarations import (
    IN_FORMULA,
    STATED,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    When,
)
from calcs.engine.errors import Impossible, Missing
from calcs.engine.findings import GUARDED, Compare, Finding
from calcs.engine.registry import BY_VERDICT
from calcs.engine.rounding import short_number
from calcs.engine.traced import UncertaintyParts, si
from calcs.engine.traced_functions import apply, square_root
from calcs.engine.uncertainty import step_and_accuracy
from calcs.engine.units import Q, Quantity, same_kind, unit_text

UNITS = (
    *(
        "Pa",
        "kPa",
        "bar",
        "inWG",
        "kW",
        "Btu/h",
        "m**3/h",
        "litre/min",
        "MJ/m**3",
        "ppm",
        "percent",
    ),
    *("degC", "s", "m**3", "mm", "cm**2", "ohm", "µA", ""),
)
WIDTHS = {"degree_Celsius": "delta_degC", "degree_Fahrenheit": "delta_degF"}


def reading_verdict(
    *,
    reading: Q,
    low_limit: Q | None = None,
    high_limit: Q | None = None,
    expanded_uncertainty: Q | None = None,
    instrument_resolution: Q | None = None,
    instrument_accuracy: Q | None = None,
    decision_rule: str,
    ref: Any,
) -> dict[str, Q | None]:
    """Uncertainty of a reading, the limits it must keep, and how likely the true value is within.

    Args:
        reading: What the instrument shows. Any unit.
        low_limit: Least permitted value. Same kind as the reading.
        high_limit: Greatest permitted value. Same kind as the reading.
        expanded_uncertainty: U (k = 2) from a certificate. Same kind as the reading.
        instrument_resolution: Smallest step it can show. Same kind as the reading.
        instrument_accuracy: Half-width of its error, same kind as the reading or [percent]
        decision_rule: "full", "iso_14253" or "simple"; "by_verdict" is the first of them.
        ref: Uses `decision.guard_<rule>`.

    Returns:
        standard_uncertainty: u of the reading. Unit of the reading.
        expanded_uncertainty: U = 2u. Unit of the reading.
        acceptance_low: Least reading that surely meets the limit. Unit of the reading.
        acceptance_high: Greatest reading that surely meets it. Unit of the reading.
        conformance_probability: How likely the true value is within the limits. [percent]

    Raises:
        Missing: No limit was given.
        WrongUnit: A limit, resolution or accuracy is of another kind than the reading.
        Impossible: The low limit is above the high one, a limit or the reading is below what can
            be, or a certificate is said to leave no uncertainty.

    Not covered: errors that lean one way, such as a gauge that was not zeroed.

    >>> found = reading_verdict(
    ...     reading=Quantity(350, "ppm"),
    ...     high_limit=Quantity(350, "ppm"),
    ...     expanded_uncertainty=Quantity(20, "ppm"),
    ...     decision_rule="full",
    ...     ref={"decision.guard_full": Quantity(1, "")},
    ... )
    >>> found["acceptance_high"].magnitude, found["conformance_probability"].magnitude
    (330.0, 50.0)
    """
    check_reading(reading, low_limit, high_limit, instrument_resolution)
    if expanded_uncertainty is not None:
        check_kind("expanded_uncertainty", expanded_uncertainty, reading)
        if si(expanded_uncertainty) <= 0:
            raise Impossible("expanded_uncertainty", "no_uncertainty")
        standard = _step(expanded_uncertainty) / 2
    else:
        standard = _from_instrument(reading, instrument_resolution, instrument_accuracy)
    unit = _step(reading).units
    standard = standard.to(unit)
    expanded_uncertainty = 2 * standard
    rule = GUARDED if decision_rule == BY_VERDICT else decision_rule
    guard = ref[f"decision.guard_{rule}"] * expanded_uncertainty
    inside = apply(
        "share of the normal curve within the limits",
        _probability(has_low=low_limit is not None, has_high=high_limit is not None),
        reading,
        standard,
        *(limit for limit in (low_limit, high_limit) if limit is not None),
        unit="percent",
    )
    return {
        "standard_uncertainty": standard,
        "expanded_uncertainty": expanded_uncertainty,
        "acceptance_low": None if low_limit is None else _moved(low_limit, guard, reading),
        "acceptance_high": None if high_limit is None else _moved(high_limit, -guard, reading),
        "conformance_probability": inside,
    }


def _moved(limit: Q, guard: Q, reading: Q) -> Q:
    """A limit moved by the guard band. On a scale of temperature only its own step can be added."""
    width = WIDTHS.get(str(limit.units))
    return (limit + (guard.to(width) if width else guard)).to(reading.units)


def _step(value: Q) -> Q:
    """A width in the unit of the reading: ± 5 °C is a difference, not a temperature."""
    width = WIDTHS.get(str(value.units))
    return Quantity(value.magnitude, width) if width else value


def _from_instrument(reading: Q, resolution: Q | None, accuracy: Q | None) -> Q:
    """JCGM 100, 4.3.7 and 5.1.2: rectangular widths, added in quadrature."""
    if resolution is None:
        raise Missing("instrument_resolution")
    if resolution.role == "figure" and not same_kind(resolution.units, reading.units):
        its_unit, unit = unit_text(resolution.units), unit_text(reading.units)
        raise Impossible("instrument", "instrument_of_another_kind", its_unit=its_unit, unit=unit)
    check_kind("instrument_resolution", resolution, reading)
    from_display = _step(resolution) / (2 * math.sqrt(3))
    if accuracy is None:
        return from_display
    # Percent of the reading, unless the instrument counts in percent: then it is a step.
    share = str(accuracy.units) == "percent" and str(resolution.units) != "percent"
    if not share:
        check_kind("instrument_accuracy", accuracy, reading)
    half_width = abs(_step(reading)) * accuracy if share else _step(accuracy)
    from_maker = half_width / math.sqrt(3)
    return square_root(from_display**2 + from_maker**2)


def _probability(*, has_low: bool, has_high: bool) -> Callable[..., float]:
    """JCGM 106:2012, 7.3: normal distribution about the reading."""

    def inside(reading: float, standard: float, *limits: float) -> float:
        low = limits[0] if has_low else -math.inf
        high = limits[-1] if has_high else math.inf
        if standard == 0:
            return 1.0 if low <= reading <= high else 0.0
        return _normal((high - reading) / standard) - _normal((low - reading) / standard)

    return inside


def _normal(z: float) -> float:
    return 0.5 * math.erfc(-z / math.sqrt(2))


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """The reading against the limit or limits, each as far as it was typed."""
    del ref
    reading, low, high = (given[name] for name in ("reading", "low_limit", "high_limit"))
    step, accuracy = (given[f"instrument_{one}"] for one in ("resolution", "accuracy"))
    if given["uncertainty_from"] == "instrument" and step is not None:
        reading.uncertainty_parts = UncertaintyParts(
            "instrument", *step_and_accuracy(reading, step, accuracy)
        )
    return [
        Compare(
            "reading",
            reading,
            low,
            high,
            places=max(
                _places(one.to(reading.units)) for one in (reading, low, high) if one is not None
            ),
            expanded=answers["expanded_uncertainty"],
        )
    ]


def _places(value: Q) -> int:
    """Decimal places that a figure was typed with, at most three after a conversion."""
    _, _, decimals = short_number(float(value.magnitude), 9).partition(".")
    return min(3, len(decimals))


BY_U = When("uncertainty_from", ("certificate",))


def _weighed(name: str, unit: str, places: int, *, significant: bool = True) -> Output:
    """An output that says how great the uncertainty is, or has it in it: it has none of its own."""
    return Output(name, unit, places, significant, no_uncertainty_reason="weighs_uncertainty")


def _limit(name: str) -> Input:
    return Input(name, "mbar", -1e6, 1e9, UNITS, any_kind=True, optional=True, uncertainty=STATED)


CALCULATOR = Calculator(
    formula=reading_verdict,
    inputs=(
        Input(
            "reading", "mbar", low=-1e6, high=1e9, also=UNITS, any_kind=True, uncertainty=IN_FORMULA
        ),
        _limit("low_limit"),
        _limit("high_limit"),
        Choice("uncertainty_from", ("instrument", "certificate"), default="instrument"),
        Input(
            "expanded_uncertainty",
            "mbar",
            0,
            1e9,
            also=UNITS,
            any_kind=True,
            when=BY_U,
            uncertainty=STATED,
        ),
        Instrument("instrument", "*", "mbar", "digital_gauge_1dp", also=UNITS, any_kind=True),
    ),
    outputs=(
        Output(
            "standard_uncertainty",
            "{reading}",
            places=2,
            significant=True,
            no_uncertainty_reason="weighs_uncertainty",
        ),
        Output(
            "expanded_uncertainty",
            "{reading}",
            places=2,
            significant=True,
            no_uncertainty_reason="weighs_uncertainty",
        ),
        _weighed("acceptance_low", "{reading}", 5),
        _weighed("acceptance_high", "{reading}", 5),
        _weighed("conformance_probability", "percent", 1, significant=False),
    ),
    sources=(
        Cite("jcgm_100", "4.3.7 and 5.1.2"),
        Cite("jcgm_106", "7.3"),
        Cite("ilac_g8", "4.2"),
    ),
    uses=("decision.guard_*",),
    judge=judge,
    verdicts=("reading",),
    refusals=(
        "limit_needed",
        "limits_swapped",
        "below_nought",
        "reading_below_nought",
        "no_uncertainty",
        "instrument_of_another_kind",
        "step_and_scale",
    ),
)
