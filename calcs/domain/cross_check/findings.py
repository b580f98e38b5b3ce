"""What the reader is told: the verdict, the explanations with how sure, and the reading to take."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calcs.domain.cross_check.case import Case
from calcs.domain.cross_check.examine import (
    FITS,
    HIDDEN,
    MISFITS,
    SURE,
    TOO_COARSE,
    TOO_FEW,
    Examined,
)
from calcs.domain.cross_check.ranking import UNLISTED, Family
from calcs.domain.cross_check.settle import most_helpful, settling
from calcs.engine.findings import Finding, Note, Ruling
from calcs.engine.in_force import InForce

NAME, TAKE, UNSEEN = "name_", "take_", "unseen"
EXAMINED = ("cross_check", "told")  # what the findings rest on, for the page of a visit
MOST_SHOWN = 3
PAIR = 2
FAINT = 0.02  # a family less likely than that is not worth a line


@dataclass(frozen=True)
class Told:
    """What the findings rest on.

    Args:
        case: The readings.
        examined: What was found.
        take: The reading to take next; None where none would tell.
        helpful: Quantities to read where too little was.
    """

    case: Case
    examined: Examined
    take: str | None
    helpful: tuple[str, ...]


def findings(case: Case, found: Examined, ref: InForce) -> Iterator[Finding]:
    """Verdict and notes, in the order in which they are read."""
    words = ref.reference.sayings("cross_check", "notes")
    few = found.outcome == TOO_FEW
    told = Told(case, found, _take(case, found, ref), most_helpful(case.sheet) if few else ())
    ref.reference.kept[EXAMINED] = told
    yield _verdict(found, words)
    if told.helpful:
        helpful = [words.get(f"{NAME}{one}", one) for one in told.helpful]
        yield Note("would_help", {"readings": ", ".join(helpful)})
    if found.outcome == MISFITS:
        yield from _explained(found, words)
        if told.take is None and len(_listed(found)) > 1:
            yield Note("never_apart")
    if told.take is not None:
        yield Note(f"{TAKE}{told.take}")
    unseen = [words.get(f"{NAME}{one}", one) for one in found.unseen]
    if unseen and not few:
        yield Note(UNSEEN, {"list": ", ".join(unseen)})


def _take(case: Case, found: Examined, ref: InForce) -> str | None:
    """The reading to take next: it shows what is hidden, or tells the first two apart.

    Where one explanation alone is likely, it is the reading that would be wrong.
    """
    if found.hidden is not None:
        return found.hidden.shown_by
    data = ref.reference.cross_check["settling"]
    alone = len(_listed(found)) == 1
    if alone and (again := _itself(found, data)) is not None:
        return again
    pair = [one.best.signature for one in found.ranking if one.best][:PAIR]
    return settling(case, (pair[0], pair[1]), data) if len(pair) == PAIR else None


def _itself(found: Examined, data: Mapping[str, Any]) -> str | None:
    """The reading to take again that the likeliest explanation says is wrong.

    None that the same would be wrong with once more.
    """
    first = _listed(found)[0]
    moved = first.best.signature.errors if first.best else {}
    return next(
        (
            name
            for name, one in data["takes"].items()
            if one.get("again") in moved and first.name not in one.get("stays", ())
        ),
        None,
    )


def _listed(found: Examined) -> list[Family]:
    """What is on the list and likely enough for a line."""
    return [one for one in found.ranking if one.best is not None and one.share >= FAINT]


def _verdict(found: Examined, words: Mapping[str, str]) -> Ruling:
    if found.hidden is not None:
        what = words[f"{NAME}{found.hidden.signature.family}"]
        return Ruling("fit", "cannot_tell", HIDDEN, values={"what": what})
    if found.outcome in (TOO_FEW, TOO_COARSE):
        return Ruling("fit", "cannot_tell", found.outcome)
    if found.outcome == FITS:
        return Ruling("fit", "meets", "fits", values={"count": str(found.degrees)})
    values = {"chance": _chance(found.chance), "count": str(found.degrees)}
    return Ruling("fit", "does_not_meet", "does_not_fit", values=values)


def _chance(chance: float) -> str:
    """In a hundred sound visits, in words that a number fits into."""
    return f"{100 * chance:.1f}" if chance >= 0.001 else "less than 0.1"


def _explained(found: Examined, words: Mapping[str, str]) -> Iterator[Note]:
    ranking = found.ranking
    two = found.second is not None and found.first is not None
    if two and ranking and ranking[0].name == UNLISTED:
        names = [words[f"{NAME}{one.name}"] for one in (found.first, found.second) if one]
        yield Note("two_wrong", {"first": names[0], "second": names[1]})
    else:
        for one in ranking[:MOST_SHOWN]:
            if one.share >= FAINT:
                yield _explanation(one, found, words)


def _explanation(one: Family, found: Examined, words: Mapping[str, str]) -> Note:
    whole = next((each.share for each in found.families if each.name == one.name), 0.0)
    values = {"what": words.get(f"{NAME}{one.name}", one.name), "share": f"{100 * one.share:.0f}"}
    return Note("explained" if whole >= SURE else "perhaps", values)
