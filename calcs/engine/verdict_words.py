"""The words of a verdict: reading, limit and outcome as a reader sees them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calcs.engine.decide import needed_uncertainty
from calcs.engine.findings import Compare
from calcs.engine.judging import WHOLE, Judged
from calcs.engine.rounding import format_with_uncertainty, round_half_up
from calcs.engine.settle import rounded_down, what_settles
from calcs.engine.traced import si
from calcs.engine.uncertainty import as_difference, in_unit
from calcs.engine.units import Q, join_unit, parse_unit, unit_code

MORE_PLACES = 4  # of a reading next to its limit
MOST_PLACES = 12
SHARE_OF_LIMIT = 0.005  # how far a limit may be shown from what it is, as a share of itself
SHARE_OF_HALF = 0.05  # and as a share of half the width between two limits


def places_shown(finding: Compare, judged: Judged | None = None) -> int:
    """Places for reading and limit: more than usual where only they show what was decided.

    A ratio of 0.00404 is above the limit of 0.0040, and 0.0040 is not.
    """
    least = _places_of_limits(finding)
    if judged is None or judged.outcome != ("meets" if finding.strict else "does_not_meet"):
        return least
    unit = finding.unit or finding.reading.units
    value = float(finding.reading.to(unit).magnitude)
    limits = list(_limits(finding))
    for places in range(least, least + MORE_PLACES):
        shown = round_half_up(value, places)
        if all(round_half_up(limit, places) != shown for limit in limits):
            return places
    return least


def _places_of_limits(finding: Compare) -> int:
    """Places with which each limit is shown as what it is, in whatever unit it is shown.

    1.15 to 1.25 kPa with one place would be 1.2 to 1.3: another rule. Near enough is within a small
    share of the limit, and of what is between two.
    """
    limits = list(_limits(finding))
    off = [SHARE_OF_LIMIT * abs(limit) for limit in limits]
    if len(limits) > 1:
        off = [min(*off, SHARE_OF_HALF * abs(limits[1] - limits[0]) / 2)] * 2
    for places in range(finding.places, MOST_PLACES):
        shown = [float(round_half_up(limit, places)) for limit in limits]
        if all(abs(a - b) <= most for a, b, most in zip(shown, limits, off, strict=True)):
            return places
    return finding.places


def _limits(finding: Compare) -> Iterator[float]:
    unit = finding.unit or finding.reading.units
    for limit in (finding.low, finding.high):
        if limit is not None:
            yield float(limit.to(unit).magnitude)


def limit_text(finding: Compare, places: int) -> str:
    """The limit or limits as the reader sees them."""
    unit = finding.unit or finding.reading.units
    shown = [round_half_up(limit, places) for limit in _limits(finding)]
    if len(shown) > 1:
        return join_unit(f"{shown[0]} to {shown[1]}", unit)
    least, most = ("above", "below") if finding.strict else ("at least", "at most")
    return join_unit(f"{most if finding.low is None else least} {shown[0]}", unit)


def sentence(
    finding: Compare, judged: Judged, limit: str, places: int, words: Mapping[str, str]
) -> str:
    """Reading, limit and outcome, and the rule where the uncertainty could have counted."""
    unit = finding.unit or finding.reading.units
    reading, expanded_uncertainty = _reading(finding, judged, places)
    told = [words["unsure" if expanded_uncertainty else "sure"], words[_what_follows(judged)]]
    if expanded_uncertainty:
        told.append(words[f"rule_{judged.rule}"])
    values = {
        "reading": reading,
        "expanded": expanded_uncertainty,
        "limit": limit,
        "most": join_unit(rounded_down(in_unit(judged.most, unit)), unit),
    }
    return full_stops(" ".join(filter(None, (text.format_map(values) for text in told))))


def full_stops(text: str) -> str:
    """No second one after "in w.g."."""
    return text.replace("..", ".")


def settles(finding: Compare, judged: Judged, words: Mapping[str, str]) -> str:
    """What would settle it, where the uncertainty is what leaves it open; else nothing."""
    is_told = judged.outcome != "cannot_tell"
    if judged.most.magnitude <= 0 or not (judged.is_close or (judged.is_coarse and not is_told)):
        return ""
    return what_settles(
        finding,
        compared=judged.compared,
        needed=_needed(finding, judged),
        is_decided=is_told,
        words=words,
    )


def scale(finding: Compare, judged: Judged, places: int) -> dict[str, Any]:
    """The reading and its limits as numbers of one unit, for a drawing or a difference."""
    unit = finding.unit or finding.reading.units
    low, high = (
        None if limit is None else float(limit.to(unit).magnitude)
        for limit in (finding.low, finding.high)
    )
    return {
        "unit": unit_code(parse_unit(unit) if isinstance(unit, str) else unit),
        "places": places,
        "reading": float(finding.reading.to(unit).magnitude),
        "low": low,
        "high": high,
        "expanded": in_unit(judged.expanded_uncertainty, unit),
    }


def _needed(finding: Compare, judged: Judged) -> Q:
    """The uncertainty that would settle it."""
    most = si(judged.most)
    # As it reads, a pass needs no more than this.
    if not (judged.is_coarse and not judged.guard_ratio):
        bounds = (finding.reading, finding.low, finding.high)
        most = needed_uncertainty(*bounds, judged.guard_ratio or WHOLE, most)
    return as_difference(most, finding.reading)


def _what_follows(judged: Judged) -> str:
    """Id of the words for an outcome."""
    if judged.outcome == "cannot_tell" and judged.is_coarse:
        return "too_coarse" if judged.most.magnitude > 0 else "no_room"
    if judged.outcome == "cannot_tell":
        return "reaches_across"
    return f"{judged.outcome}_closely" if judged.is_close else judged.outcome


def _reading(finding: Compare, judged: Judged, places: int) -> tuple[str, str]:
    """The reading and its uncertainty as they are shown; the second is empty if there is none."""
    unit = finding.unit or finding.reading.units
    value = float(finding.reading.to(unit).magnitude)
    plain, width = round_half_up(value, places), ""
    if judged.expanded_uncertainty.magnitude:
        # At most a place more than the limit has, for an uncertainty that would vanish there.
        shown, width = format_with_uncertainty(
            value, in_unit(judged.expanded_uncertainty, unit), places + 1
        )
        # What was decided within the uncertainty must still be seen.
        decided = judged.is_close and judged.outcome != "cannot_tell"
        plain = plain if decided and len(shown) < len(plain) else shown
    return join_unit(plain, unit), join_unit(width, unit) if width else ""
