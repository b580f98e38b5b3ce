"""What the reader is told: the verdict, the explanations with how sure, and the reading to take."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from calcs.domain.cross_check.case import Case
from calcs.domain.cross_check.examine import FITS, SURE, TOO_COARSE, TOO_FEW, Examined
from calcs.domain.cross_check.ranking import UNLISTED, Family
from calcs.domain.cross_check.settle import most_helpful, settling
from calcs.engine.findings import Finding, Note, Ruling
from calcs.engine.reference import InForce

NAME, TAKE = "name_", "take_"
MOST_SHOWN = 3
FAINT = 0.02  # a family less likely than that is not worth a line


def findings(case: Case, found: Examined, ref: InForce) -> Iterator[Finding]:
    """Verdict and notes, in the order in which they are read."""
    words = ref.reference.sayings("cross_check", "notes")
    yield _verdict(found)
    if found.outcome == TOO_FEW:
        helpful = [words.get(f"{NAME}{one}", one) for one in most_helpful(case.sheet)]
        if helpful:
            yield Note("would_help", {"readings": ", ".join(helpful)})
    elif found.outcome not in (FITS, TOO_COARSE):
        yield from _explained(case, found, words, ref)
    unseen = [words.get(f"{NAME}{one}", one) for one in found.unseen]
    if unseen and found.outcome != TOO_FEW:
        yield Note("unseen", {"list": ", ".join(unseen)})


def _verdict(found: Examined) -> Ruling:
    if found.outcome in (TOO_FEW, TOO_COARSE):
        return Ruling("fit", "cannot_tell", found.outcome)
    if found.outcome == FITS:
        return Ruling("fit", "meets", "fits", values={"count": str(found.degrees)})
    values = {"chance": _chance(found.chance), "count": str(found.degrees)}
    return Ruling("fit", "does_not_meet", "does_not_fit", values=values)


def _chance(chance: float) -> str:
    """In a hundred sound visits, in words that a number fits into."""
    return f"{100 * chance:.1f}" if chance >= 0.001 else "less than 0.1"


def _explained(
    case: Case, found: Examined, words: Mapping[str, str], ref: InForce
) -> Iterator[Note]:
    ranking = found.ranking
    two = found.second is not None and found.first is not None
    if two and ranking and ranking[0].name == UNLISTED:
        names = [words[f"{NAME}{one.name}"] for one in (found.first, found.second) if one]
        yield Note("two_wrong", {"first": names[0], "second": names[1]})
    else:
        for one in ranking[:MOST_SHOWN]:
            if one.share >= FAINT:
                yield _explanation(one, found, words)
    listed = [one for one in ranking if one.best is not None and one.share >= FAINT]
    pair = tuple(one.best.signature for one in listed[:2] if one.best)
    if len(pair) > 1:
        take = settling(case, (pair[0], pair[1]), ref.reference.cross_check["settling"])
        yield Note(f"{TAKE}{take}" if take else "never_apart")


def _explanation(one: Family, found: Examined, words: Mapping[str, str]) -> Note:
    whole = next((each.share for each in found.families if each.name == one.name), 0.0)
    values = {"what": words.get(f"{NAME}{one.name}", one.name), "share": f"{100 * one.share:.0f}"}
    return Note("explained" if whole >= SURE else "perhaps", values)
