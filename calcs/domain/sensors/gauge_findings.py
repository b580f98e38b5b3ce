"""What is said of a gauge beside a reference: how they agree, its zero, its last calibration."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date
from typing import Any

from calcs.domain.plausibility.kpa_for_mbar import kilopascal_note
from calcs.domain.plausibility.ordinary import coarsest, coarsest_step
from calcs.engine.errors import Impossible
from calcs.engine.findings import Compare, Finding, Note, Ruling, Table
from calcs.engine.traced import si
from calcs.engine.uncertainty import COVERAGE, expanded, standard_uncertainty
from calcs.engine.units import Q, Quantity, at_most

# A check on typing, this project's own: a gauge that is further off sets no burner.
ACCEPTED_SHARE = 0.05
LIMIT, PERIOD = "gauge.error_number_limit", "gauge.calibration_period"
Point = Mapping[str, Q]


def uncertainties_of(
    point: Point, of_gauge: Q | None, of_reference: Q | None
) -> tuple[float, float]:
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
        gauge, reference = uncertainties_of(point, of_gauge, of_reference)
        joint = math.sqrt(gauge * gauge + reference * reference)
        size = abs(si(point["gauge"]) - si(point["reference"]))
        found.append(size / joint if joint else None)
    return found


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
