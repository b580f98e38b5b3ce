"""What the readings of a visit say together: do they fit, and if not, what would explain it?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calcs.domain.cross_check.case import Case, Written
from calcs.domain.cross_check.ranking import (
    NOTHING,
    Family,
    Question,
    explanations,
    holding,
    ranked,
    second_wrong,
)

LEVEL = 0.05  # of the test: so many sound visits in a hundred are called misfits
SURE = 0.9  # below it, "perhaps"
# Of the shares: families that hold so much hold the truth in more than nine of ten generated
# visits, with a reading wrong, a mild or a strong fault. Shares err towards doubt.
HELD = 0.85
SEEN = 4.0  # detectability from which four in five are seen
FITS, MISFITS, TOO_FEW, TOO_COARSE = "fits", "does_not_fit", "too_few", "too_coarse"
HIDDEN = "hidden"


@dataclass(frozen=True)
class Examined:
    """What was found.

    Args:
        outcome: `FITS`, `MISFITS`, `TOO_FEW`, `TOO_COARSE` where they fit because hardly any error
            would show, or `HIDDEN` where one that they stand on could not have shown.
        chi_square: Of the conditions.
        degrees: How many there are.
        chance: Of as great a misfit in a sound visit.
        families: Everything that may be wrong, and nothing wrong, the likeliest first.
        held: Families that hold what is wrong nine times in ten; none where it fits.
        first: The likeliest of what is on the list.
        second: What is wrong besides, if anything shows.
        unseen: Families that could not have shown with these readings.
        hidden: The one of them without which nothing can be said.
    """

    outcome: str
    chi_square: float
    degrees: int
    chance: float
    families: tuple[Family, ...]
    held: tuple[Family, ...]
    first: Family | None
    second: Family | None
    unseen: tuple[str, ...]
    hidden: Written | None = None

    @property
    def nothing(self) -> float:
        """How sure it is that nothing is wrong."""
        return next((one.share for one in self.families if one.name == NOTHING), 1.0)

    @property
    def ranking(self) -> list[Family]:
        """What may be wrong, as if something is, the likeliest first."""
        return explanations(self.families)


def examine(case: Case) -> Examined:
    """Test the readings, and rank what would explain a misfit."""
    balance = case.balance
    chance = balance.chance
    unseen = tuple(_unseen(case))
    misfits = balance.degrees > 0 and chance < LEVEL
    if not misfits:
        outcome = (FITS if _would_show(case) else TOO_COARSE) if case.is_enough else TOO_FEW
        hidden = _hidden(case, unseen) if outcome == FITS else None
        outcome = HIDDEN if hidden else outcome
        return Examined(
            outcome, balance.chi_square, balance.degrees, chance, (), (), None, None, unseen, hidden
        )
    asked = Question(balance, case.signatures, case.allowances.prior, case.corrected)
    families = tuple(ranked(asked))
    first, second = _both(asked, families)
    return Examined(
        MISFITS,
        balance.chi_square,
        balance.degrees,
        chance,
        families,
        tuple(holding(families, HELD)),
        first,
        second,
        unseen,
    )


def _both(asked: Question, families: Sequence[Family]) -> tuple[Family | None, Family | None]:
    """The likeliest of what is on the list, and what is wrong besides.

    Where there are two, the first was judged with the second still in the readings: it is looked
    for once more with that out.
    """
    first = next((one for one in explanations(families) if one.best is not None), None)
    second = first and first.best and second_wrong(asked, first.best, LEVEL)
    if not first or not second or not second.best:
        return first, None
    again = second_wrong(asked, second.best, LEVEL)
    return again or first, second


def _would_show(case: Case) -> bool:
    """Whether a middling error of at least one kind would show; a fit says nothing else.

    What a thing shows by itself does not count: two standing pressures are alike on any gauge, any
    gauge shows its own nought in open air, the figures of a data plate fit each other whatever is
    read, and an efficiency follows from what the same analyser displays.
    """
    by_itself = {one.signature.name for one in case.allowances.written if one.is_shown_alone}
    return any(
        case.balance.detectability(one.errors) * math.sqrt(one.low * one.high) >= SEEN
        for one in case.signatures
        if not one.exact and one.name not in by_itself and one.low * one.high > 0
    )


def _hidden(case: Case, unseen: Sequence[str]) -> Written | None:
    """What could not have shown, and readings stand on it: of such an appliance it never would."""
    quantities = case.sheet.rules.quantities
    read = (quantities[name] for name in case.sheet.read if name in quantities)
    shared = {error for one in read for error in one.shares}
    return next(
        (
            one
            for one in case.allowances.written
            if one.hidden == case.sheet.burner
            and one.signature.family in unseen
            and shared.intersection(one.errors)
        ),
        None,
    )


def _unseen(case: Case) -> list[str]:
    """Families of which even the largest that is looked for would hardly show."""
    shows: dict[str, bool] = {}
    known = {one.name: one for one in case.signatures}
    for written in case.allowances.written:
        if written.only not in ("", case.sheet.burner):
            continue
        family = written.signature.family
        quantities = [name for name in written.errors if name in case.sheet.rules.quantities]
        if quantities and not any(name in case.sheet.read for name in quantities):
            continue
        here = known.get(written.signature.name)
        seen = here is not None and (
            case.balance.detectability(here.errors) * here.greatest >= SEEN
        )
        shows[family] = shows.get(family, False) or seen
    return [family for family, seen in shows.items() if not seen]
