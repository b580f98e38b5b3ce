"""A verdict as it is told: the outcome, the rule that it was decided by, its limit and sentence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calcs.engine.declarations import Calculator
from calcs.engine.findings import Compare, Ruling
from calcs.engine.given import Given
from calcs.engine.judging import judge
from calcs.engine.reference import PROVENANCES, DatedValue, Reference
from calcs.engine.verdict_words import (
    full_stops,
    limit_text,
    places_shown,
    scale,
    sentence,
    settles,
)

MEETS = "meets"
# What is left of a pass, by the outcome of what it rests on.
HELD_BACK = {
    "cannot_tell": "cannot_tell",
    "not_judged": "not_judged",
    "does_not_meet": "not_judged",
}


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
        outcome, limit, shown_scale, would_settle = finding.outcome, "", None, ""
        found = said.format_map(dict(finding.values))
    else:
        judged = judge(finding, given)
        outcome, rule = judged.outcome, judged.rule
        places = places_shown(finding, judged)
        limit = limit_text(finding, places)
        shown_scale = scale(finding, judged, places)
        would_settle = settles(finding, judged, shared)
        found = sentence(finding, judged, limit, places, shared)
    if outcome == MEETS and held_back is not None:
        other, outcome = held_back[0], HELD_BACK[held_back[1]]
        act = shared[f"rests_on_{held_back[1]}"].format(label=_label(words, other))
    else:
        act = words.get("verdicts", {}).get(finding.name, {}).get(outcome, "")
    told = full_stops(" ".join(filter(None, [found, would_settle])))
    return {
        "name": finding.name,
        "label": _label(words, finding.name),
        "outcome": outcome,
        "text": " ".join(filter(None, [told, act])),
        "found": found,
        "settles": would_settle,
        "act": act,
        "scale": shown_scale,
        "limit": limit,
        "decision_rule": rule,
        **_cited(cited, finding.provenance),
    }


def _label(words: Mapping[str, Any], name: str) -> str:
    own = words.get("verdicts", {}).get(name, {})
    return str(own.get("label", name.replace("_", " ")))


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
        "in_force": chief.first_day,
        "edition": chief.edition,
    }
