"""What a gas rate means: the heat input against the data plate, and which volume it rests on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.gas.calorific_value import is_unlike, range_of, range_text
from calcs.domain.gas.meter_index import (
    INDEX_REFUSALS,
    check_unit_of_index,
    check_unit_of_volume,
    is_of_index_or_dial,
    turned,
)
from calcs.domain.plausibility.gas_rate import SLIPS, slips
from calcs.domain.plausibility.watch_step import check_time
from calcs.engine.errors import Impossible
from calcs.engine.findings import SETTING, Compare, Finding, Note, Ruling, Run
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.units import Q, join_unit

ABOVE, BELOW = "heat_input.tolerance_above", "heat_input.tolerance_below"
BILLING = "billing.volume_correction"
# Shares of the plate: twice what any source held here gives on that side, and the wider of the two.
WIDEST_ABOVE, WIDEST = 0.1, 0.2
VERDICTS = ("heat_input",)
NOTES = ("basis", "turned", "billing_factor", "corrected", "pure_gas", *SLIPS)
REFUSALS = (
    "more_than_a_fifth",
    "more_than_a_tenth",
    "far_above_the_first",
    "between_steps_of_watch",
    "unit_of_the_volume",
    *INDEX_REFUSALS,
)
RULINGS = ("calorific_value_unlike", "value_of_another_gas", "index_or_dial")


def judge(
    *, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Mapping[str, Q]
) -> list[Finding]:
    """The heat input against the data plate, and what else the readings say of themselves.

    Raises:
        Impossible: The index was read in another unit than it counts in, the run was timed finer
            than its watch shows, or a tolerance is none.
    """
    if given["method"] == "index":
        check_unit_of_index(given, ("first_reading", "second_reading"), "meter")
    if given["question"] == "heat_input":
        check_unit_of_volume(given, "volume", "meter")
    check_time(given, ("elapsed",))
    _check_tolerances(given)
    told = slips(given, answers, ref)
    findings: list[Finding] = []
    if "share_of_plate" in answers:
        findings.append(_against_plate(given, answers, ref))
        if _fits_other_basis(given, answers):
            findings.append(Note("basis"))
    if given["method"] == "index":
        length = turned(given["first_reading"], given["second_reading"])
        findings += [Note("turned", {"figures": f"{length}"})] if length else []
    findings += told
    if given["gas"] != "natural_gas" and given["calorific_value_gross"].role == "figure":
        findings.append(Note("pure_gas"))
    if "flow_rate" in answers:
        findings.append(_which_volume(answers, ref))
    return findings


def _check_tolerances(given: Mapping[str, Any]) -> None:
    """Refuse a tolerance that no plate has, typed here or in place of what is held.

    Raises:
        Impossible: It is more than twice what any source held here gives.
    """
    if si(given["tolerance_above"]) > WIDEST_ABOVE + 1e-9:
        raise Impossible("tolerance_above", "more_than_a_tenth")
    if si(given["tolerance_below"]) > WIDEST + 1e-9:
        raise Impossible("tolerance_below", "more_than_a_fifth")


def _against_plate(
    given: Mapping[str, Any], answers: Mapping[str, Q], ref: Mapping[str, Q]
) -> Finding:
    """The heat input against the band that the plate permits.

    With a calorific value that the gas can't have, it passes nothing; what neither that value nor
    any of the gas would bring near the plate does not meet it. Much too much gas may be a slip in
    the volume, of which a note says so. It fails all the same.
    """
    figures, value = (ABOVE, BELOW), given["calorific_value_gross"]
    if is_unlike(value, given["gas"], "gross", ref) and not _is_beyond_any_band(
        answers["share_of_plate"], given, ref
    ):
        return _of_another_gas(given["gas"], figures, ref)
    found = answers[f"heat_input_{given['plate_basis']}"]
    is_inside = si(answers["lowest_input"]) <= si(found) <= si(answers["highest_input"])
    if is_inside and is_of_index_or_dial(given, "volume", "meter"):
        return Ruling("heat_input", "not_judged", "index_or_dial", figures)
    return Compare(
        "heat_input",
        found,
        low=answers["lowest_input"],
        high=answers["highest_input"],
        # A figure of the handbook is part of what the verdict rests on.
        figures=(*figures, value.name) if value.role == "figure" else figures,
        unit="kW",
        places=2,
        rule=SETTING,
        # The trade's band is meant for a calorific value that is known as well as the network's is.
        # Half the band, as elsewhere, would pass nobody who has no bill at hand.
        span=answers["highest_input"] - answers["lowest_input"],
        run=Run(given["elapsed"], ("meter", "stopwatch")),
    )


def _of_another_gas(gas: str, figures: tuple[str, ...], ref: Mapping[str, Q]) -> Ruling:
    if gas == "natural_gas":
        return Ruling("heat_input", "not_judged", "calorific_value_unlike", figures)
    said = {**range_text(gas, "gross", ref), "basis": "gross"}
    return Ruling("heat_input", "not_judged", "value_of_another_gas", figures, said)


def _is_beyond_any_band(share: Q, given: Mapping[str, Any], ref: Mapping[str, Q]) -> bool:
    """Whether the share of the plate is outside the widest band, typed value or any of the gas."""
    value = given["calorific_value_gross"]
    ends = (value, *range_of(given["gas"], "gross", ref))
    shares = [si(share / value * end) for end in ends]
    least, most = min(shares), max(shares)
    return least > 1 + WIDEST or most < 1 - WIDEST


def _which_volume(answers: Mapping[str, Q], ref: Mapping[str, Q]) -> Note:
    """The volume that the heat input is worked from, and what the other one would make of it."""
    if "flow_rate_corrected" in answers:
        plain = answers["heat_input_gross"] / answers["volume_correction"]
        return Note(
            "corrected",
            {
                "corrected": _shown(answers["flow_rate_corrected"], "m**3/h", 3),
                "metered": _shown(answers["flow_rate"], "m**3/h", 3),
                "heat": _shown(plain, "kW", 2),
            },
        )
    factor = ref[BILLING]
    more = (factor.magnitude - 1) * 100
    return Note(
        "billing_factor",
        {
            "factor": f"{factor.magnitude:g}",
            "heat": _shown(answers["heat_input_gross"] * factor, "kW", 2),
            "corrected": _shown(answers["flow_rate"] * factor, "m**3/h", 3),
            "percent": f"{round_half_up(more, 1)} %",
        },
    )


def _shown(value: Q, unit: str, places: int) -> str:
    return join_unit(round_half_up(float(value.to(unit).magnitude), places), unit)


def _fits_other_basis(given: Mapping[str, Any], answers: Mapping[str, Q]) -> bool:
    """Outside the plate on the basis chosen and inside it on the other: a common slip."""

    def inside(basis: str) -> bool:
        burnt = answers[f"heat_input_{basis}"]
        return bool(answers["lowest_input"] <= burnt <= answers["highest_input"])

    other = "gross" if given["plate_basis"] == "net" else "net"
    return not inside(given["plate_basis"]) and inside(other)
