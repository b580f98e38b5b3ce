"""The let-by test: whether the closed control holds, or whether nothing was proved of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.tightness.movement import beyond_any, coarse_ruling, must_be_seen, too_coarse
from calcs.domain.tightness.starting_pressure import (
    ROUNDING_TOLERANCE,
    in_mbar,
    set_to,
    start_untold,
    within,
)
from calcs.domain.tightness.tightness import perceptible
from calcs.engine.findings import Compare, Finding, Ruling
from calcs.engine.traced import si
from calcs.engine.units import Q, at_most

BOUNDS = ("tightness.let_by_low", "tightness.let_by_high")


def let_by_findings(
    given: Mapping[str, Any], rise: Q | None, edition: str, ref: Any
) -> list[Finding]:
    """The let-by test of a small installation: its pressure, and what came past the control."""
    start = given["let_by_start"]
    if rise is None:
        return [Ruling("let_by", "not_judged", "let_by_missing")]
    return [
        set_to("let_by_pressure", start, BOUNDS, ref),
        _let_by(given, rise, edition, ref),
    ]


def _let_by(given: Mapping[str, Any], rise: Q, edition: str, ref: Any) -> Ruling:
    none, figures = perceptible(given, edition, ref)
    values = {"rise": in_mbar(abs(rise)), "none": "" if none is None else in_mbar(none)}
    limit = ROUNDING_TOLERANCE if none is None else si(none) + ROUNDING_TOLERANCE
    least = must_be_seen(none, given["gauge"], ref)
    if si(rise) > 0 and beyond_any(rise, ref):
        return Ruling("let_by", "does_not_meet", "lets_by", (), values)
    if beyond_any(rise, ref):
        return Ruling("let_by", "not_judged", "let_by_fell", (), values)
    if too_coarse(rise, least):
        return coarse_ruling("let_by", rise, least, figures)
    if si(rise) < -limit:
        return Ruling("let_by", "not_judged", "let_by_fell", figures, values)
    if si(rise) <= limit and not within(si(given["let_by_start"]), BOUNDS, ref):
        return Ruling("let_by", "not_judged", "let_by_wrong_pressure", BOUNDS)
    if si(rise) <= limit and start_untold(given["let_by_start"], BOUNDS, ref):
        return Ruling("let_by", "cannot_tell", "let_by_start_too_coarse", BOUNDS)
    if si(rise) <= limit:
        return Ruling("let_by", "meets", "no_rise", figures, values)
    if none is None:
        return Ruling("let_by", "not_judged", "let_by_not_held", figures, values)
    return Ruling("let_by", "does_not_meet", "let_by_rise", figures, values)


# What holds the tightness test back: the verdict on it, by that on the let-by test. Over a control
# that passes gas a steady gauge proves nothing: regulator and leak even out.
_HOLDS_BACK = {
    "let_by_missing": "no_let_by",
    "let_by_fell": "let_by_fallen",
}


def held_back(verdict: Finding, let_by: list[Finding]) -> Finding:
    """No pass for tightness without a let-by test that proves something."""
    found = next(one for one in let_by if isinstance(one, Ruling))
    if not passes(verdict) or found.outcome == "meets":
        return verdict
    if found.outcome == "does_not_meet":
        return Ruling("tightness", "does_not_meet", "let_by_failed")
    return Ruling("tightness", "not_judged", _HOLDS_BACK.get(found.reason, "let_by_open"))


def passes(verdict: Finding) -> bool:
    """Whether a verdict is a pass, or may yet become one by the decision rule."""
    if isinstance(verdict, Ruling):
        return verdict.outcome == "meets"
    return isinstance(verdict, Compare) and at_most(verdict.reading, verdict.high)
