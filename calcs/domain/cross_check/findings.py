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
VALUE = "calorific_value"  # the reading to take where it is one that the gas can't have
MOST_SHOWN = 3
LIKELY = 0.05  # a third explanation from which it is worth a reading of its own
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


def findings(
    case: Case, found: Examined, ref: InForce, outside: Mapping[str, str] | None = None
) -> Iterator[Finding]:
    """Verdict and notes, in the order in which they are read.

    Args:
        case: The readings.
        found: What was found.
        ref: Words and figures in force.
        outside: Of a calorific value that this gas can't have: it and the ends of its range.
    """
    words = ref.reference.sayings("cross_check", "notes")
    few = found.outcome == TOO_FEW
    take = VALUE if outside else _take(case, found, ref)
    told = Told(case, found, take, most_helpful(case.sheet) if few else ())
    ref.reference.kept[EXAMINED] = told
    if outside and found.outcome == FITS:
        yield Ruling("fit", "cannot_tell", "value_outside", values=outside)
    else:
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
    likely = _likely(found)
    if len(likely) <= 1:
        again = next(iter(_itself(likely[0], data)), None) if likely else None
        if again is not None or not likely or not _is_fault(case, likely[0]):
            return again
    known = [(one.best.signature, one.share) for one in found.ranking if one.best]
    others = [one for one, share in known[1 : PAIR + 1] if one is known[1][0] or share >= LIKELY]
    takes = (settling(case, (known[0][0], other), data) for other in others)
    return next((take for take in takes if take is not None), None)


def _likely(found: Examined) -> list[Family]:
    """What is worth a reading: the first of two that are wrong together, where no one thing is."""
    both = found.first is not None and found.second is not None
    return _listed(found) or ([found.first] if both and found.first else [])


def _itself(family: Family, data: Mapping[str, Any]) -> Iterator[str]:
    """Readings to take again that an explanation says are wrong.

    None that the same would be wrong with once more.
    """
    moved = family.best.signature.errors if family.best else {}
    for name, one in data["takes"].items():
        anew = {one.get("again"), one.get("first"), *one.get("moved_by", ())}
        if anew.intersection(moved) and family.name not in one.get("stays", ()):
            yield name


def _is_fault(case: Case, family: Family) -> bool:
    """Whether an explanation is of the appliance, its supply or its flue."""
    kinds = {one.signature.name: one.kind for one in case.allowances.written}
    return family.best is not None and kinds[family.best.signature.name] == "fault"


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
