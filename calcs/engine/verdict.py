"""A verdict as it is told: the outcome, the rule that it was decided by, its limit and sentence."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from calcs.engine.declarations import Calculator
from calcs.engine.findings import Compare, Ruling
from calcs.engine.read_inputs import Given
from calcs.engine.reference import PROVENANCES, DatedValue, Reference
from calcs.engine.rounding import format_with_uncertainty, round_half_up
from calcs.engine.settle import rounded_down, what_settles
from calcs.engine.traced import Traced, si
from calcs.engine.uncertainty import (
    as_difference,
    beyond,
    ceiling,
    decide,
    expanded,
    in_unit,
    needed_uncertainty,
)
from calcs.engine.units import Q, join_unit

MORE_PLACES = 4  # of a reading next to its limit
MOST_PLACES = 12
SHARE_OF_LIMIT = 0.005  # how far a limit may be shown from what it is, as a share of itself
SHARE_OF_HALF = 0.05  # and as a share of half the width between two limits
WHOLE = 1.0  # of the uncertainty
MEETS = "meets"
# What is left of a pass, by the outcome of what it rests on.
HELD_BACK = {
    "cannot_tell": "cannot_tell",
    "not_judged": "not_judged",
    "does_not_meet": "not_judged",
}


@dataclass(frozen=True)
class Judged:
    """What was decided of a reading.

    Args:
        outcome: "meets", "does_not_meet" or "cannot_tell".
        rule: The decision rule: "full", "iso_14253" or "simple".
        guard_ratio: How much of the uncertainty had to be clear of the limit.
        expanded_uncertainty: Expanded uncertainty of the comparison.
        compared: The quantity that it belongs to.
        most: Greatest uncertainty with which a pass is given.
        is_close: The limit is within the uncertainty of the reading.
        is_coarse: The uncertainty is above `most`.
    """

    outcome: str
    rule: str
    guard_ratio: float
    expanded_uncertainty: Q
    compared: Q
    most: Q
    is_close: bool
    is_coarse: bool


def verdicts(
    findings: Sequence[Compare | Ruling],
    calculator: Calculator,
    reference: Reference,
    given: Given,
) -> list[dict[str, Any]]:
    """Every verdict in the shape of the answer; none passes where one that it rests on does not."""
    held_back = _held_back(findings, calculator, given) if calculator.rests_on else {}
    return [
        _verdict(finding, calculator, reference, given, held_back.get(finding.name))
        for finding in findings
    ]


def _held_back(
    findings: Sequence[Compare | Ruling], calculator: Calculator, given: Given
) -> dict[str, tuple[str, str]]:
    """What keeps a verdict from passing: by its name the first that it rests on and its outcome."""
    outcomes = {
        one.name: one.outcome if isinstance(one, Ruling) else judge(one, given).outcome
        for one in findings
    }
    return {
        name: (other, outcomes[other])
        for name, others in calculator.rests_on.items()
        for other in reversed(others)
        if outcomes.get(other, MEETS) != MEETS
    }


def _verdict(
    finding: Compare | Ruling,
    calculator: Calculator,
    reference: Reference,
    given: Given,
    held_back: tuple[str, str] | None,
) -> dict[str, Any]:
    """One verdict, which does not pass where another holds it back."""
    words = reference.words(calculator.id)
    shared = reference.words("_shared").get("judged", {})
    cited = [given.in_force.dated_value(name) for name in finding.figures]
    rule = None
    if isinstance(finding, Ruling):
        said = reference.sayings(calculator.id, "rulings").get(finding.reason, finding.reason)
        outcome, limit = finding.outcome, ""
        told = [said.format_map(dict(finding.values))]
    else:
        judged = judge(finding, given)
        outcome, rule = judged.outcome, judged.rule
        places = places_shown(finding, judged)
        limit = limit_text(finding, places)
        told = [_sentence(finding, judged, limit, places, shared)]
    if outcome == MEETS and held_back is not None:
        other, outcome = held_back[0], HELD_BACK[held_back[1]]
        told.append(shared[f"rests_on_{held_back[1]}"].format(label=_label(words, other)))
    else:
        told.append(words.get("verdicts", {}).get(finding.name, {}).get(outcome, ""))
    return {
        "name": finding.name,
        "label": _label(words, finding.name),
        "outcome": outcome,
        "text": " ".join(filter(None, told)),
        "limit": limit,
        "decision_rule": rule,
        **_cited(cited, finding.provenance),
    }


def _label(words: Mapping[str, Any], name: str) -> str:
    own = words.get("verdicts", {}).get(name, {})
    return str(own.get("label", name.replace("_", " ")))


def judge(finding: Compare, given: Given) -> Judged:
    """A reading against its limits, by the rule that the verdict declares or the reader chose."""
    rule = given.rule(finding.rule)
    guard_ratio = float(given.in_force.text(f"decision.guard_{rule}"))
    compared = _compared(finding)
    expanded_uncertainty = finding.expanded if finding.expanded is not None else expanded(compared)
    bounds = (finding.reading, finding.low, finding.high)
    most = ceiling(*bounds, finding.span)
    surely = decide(*bounds, WHOLE, expanded_uncertainty, strict=finding.strict)
    return Judged(
        outcome=decide(
            *bounds, guard_ratio, expanded_uncertainty, strict=finding.strict, most=most
        ),
        rule=rule,
        guard_ratio=guard_ratio,
        expanded_uncertainty=expanded_uncertainty,
        compared=compared,
        most=as_difference(most, finding.reading),
        is_close=bool(expanded_uncertainty.magnitude) and surely == "cannot_tell",
        is_coarse=beyond(expanded_uncertainty, most),
    )


def _compared(finding: Compare) -> Q:
    """What has the uncertainty of the comparison: a limit that was worked out has its own.

    The difference is traced, so what reading and limit have in common counts once.
    """
    limits = [limit for limit in (finding.low, finding.high) if isinstance(limit, Traced)]
    differences = [finding.reading - limit for limit in limits]
    return max(differences, key=lambda one: si(expanded(one)), default=finding.reading)


def _cited(cited: list[DatedValue], own: str | None) -> dict[str, Any]:
    if not cited:
        return {"source": "", "provenance": "", "in_force": None, "edition": None}
    chief = cited[0]
    return {
        "source": "; ".join(dict.fromkeys(dated_value.source_text for dated_value in cited)),
        "provenance": max(
            (*(dated_value.provenance for dated_value in cited), own or PROVENANCES[0]),
            key=PROVENANCES.index,
        ),
        "in_force": None if chief.start == date.min else chief.start.isoformat(),
        "edition": chief.edition,
    }


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


def _sentence(
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
    parts = [text.format_map(values) for text in told]
    is_told = judged.outcome != "cannot_tell"
    if judged.most.magnitude > 0 and (judged.is_close or (judged.is_coarse and not is_told)):
        parts.append(
            what_settles(
                finding,
                compared=judged.compared,
                needed=_needed(finding, judged),
                is_decided=is_told,
                words=words,
            )
        )
    said = " ".join(filter(None, parts))
    return said.replace("..", ".")  # after "in w.g." no second full stop


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
