"""What is said of an injector: its coefficient, a conversion, a bore that may be a stamp."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.errors import Impossible
from calcs.engine.findings import Finding, Note, Ruling
from calcs.engine.in_force import InForce
from calcs.engine.rounding import round_half_up, short_number
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, join_unit

# The figures of natural gas, propane and butane stand further apart than this, and no supply of one
# of them is so far from what is held.
UNLIKE = 0.2
HALF = 0.5  # of what lies between no flow and all of it: more uncertainty than that tells nothing
COEFFICIENT = "injector.discharge_coefficient"
# A jet leaves no bore with less than half of its area: the momentum of a free jet, which hydraulics
# books work out for a tube that reaches into the vessel.
LEAST_OF_A_CLEAR_BORE = 0.5
# Millimetres, common practice: a stamp in hundredths is 30 and more, and the bores of burners in
# homes are below 5.
WIDE_BORE = 10


def _check_gases(given: Mapping[str, Any], ref: InForce) -> None:
    """Refuse a figure of another gas: an injector chosen by it passes too much gas or too little.

    Raises:
        Impossible: One that was typed is not that of the gas chosen.
    """
    for prefix in ("", "new_"):
        gas = given[f"{prefix}gas"] or given["gas"]
        for name in ("calorific_value_gross", "relative_density"):
            typed, held = given[f"{prefix}{name}"], ref[f"gas.{gas}.{name}"]
            if typed is None or typed.role != "input":
                continue
            if abs(si(typed) / si(held) - 1) > UNLIKE:
                about = join_unit(short_number(float(held.magnitude), 3), held.units)
                raise Impossible(f"{prefix}{name}", "not_of_this_gas", about=about)


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce) -> list[Finding]:
    """Whether a coefficient can be true, and what a conversion without new injectors would do."""
    _check_gases(given, ref)
    findings: list[Finding] = []
    if (coefficient := answers.get("found_coefficient")) is not None:
        possible = si(coefficient) <= 1
        usual = ref[COEFFICIENT]
        values = {
            "coefficient": round_half_up(si(coefficient), 3),
            "usual": f"{usual.magnitude:g}",
        }
        reason = "can_be" if possible else "cannot_be"
        outcome = "meets" if possible else "does_not_meet"
        if possible and si(expanded(coefficient)) > HALF:
            outcome, reason = "cannot_tell", "could_be_any"
        elif si(coefficient) < LEAST_OF_A_CLEAR_BORE:
            outcome, reason = "does_not_meet", "less_than_a_clear_bore"
        findings.append(Ruling("coefficient", outcome, reason, (COEFFICIENT,), values))
    if (share := answers.get("share_unchanged")) is not None:
        values = {"share": join_unit(round_half_up(share.magnitude, 0), "percent")}
        findings += [Note("unchanged", values), Note("both_bases")]
    if given["question"] == "heat_input":
        findings.append(Note("from_the_bore"))
    return [*findings, *_stamp_note(given["diameter"], given["present_diameter"])]


def _stamp_note(*bores: Q | None) -> list[Finding]:
    """A note where a bore in millimetres is so wide that it may be the stamp on the injector."""
    for bore in bores:
        if bore is None or str(bore.units) != "millimeter" or bore.magnitude <= WIDE_BORE:
            continue
        number = float(bore.magnitude)
        values = {
            "stamp": short_number(number),
            "typed": join_unit(short_number(number), "mm"),
            "meant": join_unit(short_number(number / 100), "mm"),
        }
        return [Note("may_be_the_stamp", values)]
    return []
