"""Gauge check: a gauge against a reference gauge at several pressures."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date
from typing import Any

from calcs.domain.plausibility.kpa_for_mbar import kilopascal_note
from calcs.domain.plausibility.ordinary import coarsest, coarsest_step
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
from calcs.engine.errors import Impossible
from calcs.engine.findings import Compare, Finding, Note, Ruling, Table
from calcs.engine.traced import named, si, square_root
from calcs.engine.uncertainty import COVERAGE, expanded, standard_uncertainty
from calcs.engine.units import Q, Quantity, at_most

# A check on typing, this project's own: a gauge that is further off sets no burner.
ACCEPTED_SHARE = 0.05
LIMIT, PERIOD = "gauge.error_number_limit", "gauge.calibration_period"
Point = Mapping[str, Q]


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
        uncertainties = _uncertainties(points[worst], expanded_gauge, expanded_reference)
        found.update(_error_number(differences[worst], *uncertainties))
    if zero_reading is not None:
        found["difference_beyond_zero"] = greatest - zero_reading
    if last_difference is not None:
        found["drift"] = greatest - last_difference
    return found


def _uncertainties(point: Point, of_gauge: Q | None, of_reference: Q | None) -> tuple[float, float]:
    """Expanded uncertainty of both: the certificate's, else the instrument's, in pascal."""
    gauge, reference = (
        COVERAGE * standard_uncertainty(point[name])
        if expanded_uncertainty is None
        else si(expanded_uncertainty)
        for name, expanded_uncertainty in (("gauge", of_gauge), ("reference", of_reference))
    )
    return gauge, reference


def error_numbers(
    points: tuple[Point, ...], of_gauge: Q | None, of_reference: Q | None
) -> list[float | None]:
    """Error number of each point; None where nothing is known of the uncertainty."""
    found: list[float | None] = []
    for point in points:
        gauge, reference = _uncertainties(point, of_gauge, of_reference)
        joint = math.sqrt(gauge * gauge + reference * reference)
        size = abs(si(point["gauge"]) - si(point["reference"]))
        found.append(size / joint if joint else None)
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


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """The two gauges against each other, the zero, the limit typed in, and the last calibration."""
    findings: list[Finding] = []
    _check_accepted(given)
    if not any(si(point["reference"]) for point in given["points"]):
        findings.append(Ruling("agreement", "not_judged", "only_nought", (LIMIT,)))
    elif _too_coarse(given, answers, ref):
        findings.append(Ruling("agreement", "cannot_tell", "joint_too_coarse", (LIMIT,)))
    elif "error_number" in answers:
        number, none = answers["error_number"], Quantity(0.0, "")
        findings.append(
            Compare(
                "agreement",
                number,
                high=ref[LIMIT],
                figures=(LIMIT,),
                places=2,
                expanded=none,
                strict=True,
            )
        )
    else:
        findings.append(Ruling("agreement", "not_judged", "no_uncertainty_known", (LIMIT,)))
    greatest, accepted = answers["greatest_difference"], given["accepted_difference"]
    if accepted is not None:
        findings.append(_difference(greatest, accepted, given))
    findings.extend(_zero(given, ref))
    findings.extend(_calibration(given, ref))
    drift = answers.get("drift")
    if drift is not None and abs(drift) > expanded(greatest):
        findings.append(Note("drifted"))
    slips = (kilopascal_note((p["gauge"],), p["reference"]) for p in given["points"])
    return [*findings, *next(filter(None, slips), ()), _table(given)]


def _difference(greatest: Q, accepted: Q, given: Mapping[str, Any]) -> Compare:
    """The greatest difference against what is accepted, as well known as the certificates say."""
    uncertainty = expanded(greatest)
    certified = [given[f"expanded_{one}"] for one in ("gauge", "reference")]
    if given["uncertainty_from"] == "certificate" and all(one is not None for one in certified):
        joint = math.sqrt(math.fsum(si(one) ** 2 for one in certified))
        uncertainty = max(uncertainty, Quantity(joint, "Pa").to("mbar"), key=si)
    return Compare(
        "difference", abs(greatest), high=accepted, unit="mbar", places=2, expanded=uncertainty
    )


def _too_coarse(given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> bool:
    """Whether two gauges agree for no better reason than that little is known of them.

    More is open than two of the coarsest gauges of the handbook leave, or than is accepted.
    """
    number, size = answers.get("error_number"), answers.get("difference_there")
    if number is None or size is None or si(number) >= si(ref[LIMIT]):
        return False
    uncertainties = (answers[f"uncertainty_{one}"] for one in ("gauge", "reference"))
    joint = math.sqrt(math.fsum(si(uncertainty) ** 2 for uncertainty in uncertainties))
    most_read = max((point["reference"] for point in given["points"]), key=si)
    accepted = given["accepted_difference"]
    most = math.sqrt(2) * si(coarsest("pressure", most_read, ref))
    return joint > (most if accepted is None else min(most, si(accepted))) * (1 + 1e-9)


def _check_accepted(given: Mapping[str, Any]) -> None:
    """Refuse a difference that calls every pair of gauges alike.

    Raises:
        Impossible: It is more than a share of the greatest pressure that was compared.
    """
    accepted = given["accepted_difference"]
    most_read = max(abs(si(point["reference"])) for point in given["points"])
    if accepted is not None and most_read and si(accepted) > ACCEPTED_SHARE * most_read:
        raise Impossible("accepted_difference", "more_than_a_twentieth")


def _zero(given: Mapping[str, Any], ref: Any) -> list[Finding]:
    zero, step = given["zero_reading"], given["gauge_resolution"]
    if zero is None:
        return []
    if step is not None and step > coarsest_step("pressure", ref):
        # Within such a step means nothing: other gauges are read to less.
        outcome = "cannot_tell" if at_most(abs(zero), step) else "does_not_meet"
        return [Ruling("zero", outcome, "step_too_coarse")]
    if step is not None and not at_most(abs(zero), step):
        return [Ruling("zero", "does_not_meet", "zero_off")]
    return [Ruling("zero", "meets", "zero_holds")]


def _calibration(given: Mapping[str, Any], ref: Any) -> list[Finding]:
    calibrated: date | None = given["calibrated_on"]
    if calibrated is None:
        return []
    days = (given["test_date"] - calibrated).days
    if days < 0:
        raise Impossible("calibrated_on", "calibrated_later")
    age = Quantity(float(days), "day")
    return [Compare("calibration", age, high=ref[PERIOD], figures=(PERIOD,), unit="day", places=0)]


def _table(given: Mapping[str, Any]) -> Table:
    points: tuple[Point, ...] = given["points"]
    numbers = error_numbers(points, given["expanded_gauge"], given["expanded_reference"])
    rows = []
    for point, number in zip(points, numbers, strict=True):
        reference, gauge = (_mbar(point[name]) for name in ("reference", "gauge"))
        rows.append(
            {
                "reference": reference,
                "gauge": gauge,
                "difference": gauge - reference,
                "error_number": number,
            }
        )
    return Table("points", tuple(rows))


def _mbar(value: Q) -> float:
    return float(value.to("mbar").magnitude)


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
