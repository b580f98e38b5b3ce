"""From relations as data, and what was read, to conditions with their slopes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from calcs.domain.cross_check.balance import Condition, Errors
from calcs.domain.pipes.pipe_flow import natural_log
from calcs.engine.units import parse_quantity

TRACE = 1e-4  # of the uncertainty of a condition
STEP = 1e-4  # of a quantity, for slopes of what follows from it
SHARE, SIZE = "share", "size"
Derived = Callable[..., "float | None"]


class Read(NamedTuple):
    """One quantity: its value in SI base units and its own standard uncertainty in them."""

    value: float
    uncertainty: float = 0.0


@dataclass(frozen=True)
class Quantity:
    """What data says of a quantity.

    Args:
        log: Its own error is a share of it.
        shares: Errors that it shares with others: a share of it, or of its size.
        of: Quantities that it follows from; empty for one that is read or looked up.
        rounding: No instrument read it: its own error is that of a last digit.
        step: That last digit, in SI base units; 0 where any may be.
        tenfold: Where it is a nought, it may have been left away.
        figure: It was looked up.
    """

    log: bool = False
    shares: Mapping[str, str] = field(default_factory=dict)
    of: tuple[str, ...] = ()
    rounding: bool = False
    step: float = 0.0
    tenfold: bool = False
    figure: bool = False


@dataclass(frozen=True)
class Relation:
    """How quantities hang together.

    Args:
        name: Id.
        powers: Powers of quantities that multiply to one, or multiples that add up to nought.
        is_product: Whether they multiply.
        errors: Errors of the relation itself.
        only: Kind of burner that it holds for; empty for each.
        weak: It says too little alone.
    """

    name: str
    powers: tuple[tuple[tuple[str, ...], float], ...]
    is_product: bool
    errors: Mapping[str, float]
    only: str = ""
    weak: bool = False


@dataclass(frozen=True)
class Rules:
    """All that data says, read once."""

    quantities: Mapping[str, Quantity]
    parts: Mapping[str, Relation]
    relations: tuple[Relation, ...]


class Sheet:
    """What was read on one visit, and what follows from it.

    Args:
        read: Quantities that were read, or are figures, by name.
        burner: Kind of burner.
        rules: What data says.
        derived: By the name of a quantity that follows from others, how.
    """

    def __init__(
        self,
        read: Mapping[str, Read],
        burner: str,
        rules: Rules,
        derived: Mapping[str, Derived],
    ) -> None:
        self.read, self.burner, self.rules, self.derived = read, burner, rules, derived
        self._slopes: dict[str, dict[str, float] | None] = {}

    def value(self, name: str, read: Mapping[str, Read] | None = None) -> float | None:
        """Value of a quantity, with other readings where they are given; None if it isn't there."""
        known = self.read if read is None else read
        about = self.rules.quantities[name]
        if not about.of:
            return known[name].value if name in known else None
        if any(one not in known for one in about.of):
            return None
        return self.derived[name](*(known[one].value for one in about.of))

    def expanded(self, relation: Relation) -> tuple[dict[str, float], dict[str, float]] | None:
        """Powers of plain quantities, and errors, of a relation; None where one is not there."""
        if relation.only not in ("", self.burner):
            return None
        powers: dict[str, float] = {}
        errors = dict(relation.errors)
        for names, power in relation.powers:
            found = next((one for name in names if (one := self._plain(name)) is not None), None)
            if found is None:
                return None
            for known, added in zip((powers, errors), found, strict=True):
                for name, times in added.items():
                    known[name] = known.get(name, 0.0) + power * times
        return {name: power for name, power in powers.items() if power}, errors

    def _plain(self, name: str) -> tuple[dict[str, float], dict[str, float]] | None:
        if name in self.rules.parts:
            return self.expanded(self.rules.parts[name])
        return None if self.value(name) is None else ({name: 1.0}, {})

    def errors_of(self, name: str) -> dict[str, float] | None:
        """How far each error moves a quantity, for one unit of the error."""
        if name not in self._slopes:
            self._slopes[name] = self._errors_of(name)
        return self._slopes[name]

    def _errors_of(self, name: str) -> dict[str, float]:
        about, value = self.rules.quantities[name], self.value(name) or 0.0
        found: dict[str, float] = {}
        if about.of:
            for one in about.of:
                slope = self._slope(name, one)
                for error, moved in (self.errors_of(one) or {}).items():
                    found[error] = found.get(error, 0.0) + slope * moved
        else:
            found[name] = value if about.log else 1.0
        # A reading is the truth and its error; a figure, or what follows, and its error the truth.
        sign = -1.0 if about.of or about.figure else 1.0
        for error, kind in about.shares.items():
            found[error] = found.get(error, 0.0) + sign * (value if kind == SHARE else 1.0)
        return found

    def _slope(self, name: str, by: str) -> float:
        at = self.read[by]
        step = STEP * (abs(at.value) or 1.0)
        ends = [
            self.value(name, {**self.read, by: Read(at.value + sign * step)}) for sign in (1, -1)
        ]
        if None in ends:
            return 0.0
        return ((ends[0] or 0.0) - (ends[1] or 0.0)) / (2 * step)


@dataclass(frozen=True)
class Bound:
    """A relation with the quantities of one visit in it."""

    relation: Relation
    powers: Mapping[str, float]
    errors: Mapping[str, float]
    bends_with: frozenset[str]  # readings from which a quantity in it follows

    def misfit(self, values: Callable[[str], float | None]) -> float | None:
        """What should be nought; None where the quantities can't be so."""
        total = []
        for name, power in self.powers.items():
            value = values(name)
            if value is None or (self.relation.is_product and value <= 0):
                return None
            total.append(power * (natural_log(value) if self.relation.is_product else value))
        return math.fsum(total)


def bound(sheet: Sheet) -> Iterator[Bound]:
    """Every relation whose quantities are all there."""
    for relation in sheet.rules.relations:
        found = sheet.expanded(relation)
        if found is not None:
            of = (sheet.rules.quantities[name].of for name in found[0])
            made = Bound(relation, *found, frozenset(one for names in of for one in names))
            if made.misfit(sheet.value) is not None:
                yield made


def condition(sheet: Sheet, one: Bound) -> Condition:
    """A relation as a condition, with the slope of every error in it."""
    slopes = dict(one.errors)
    for name, power in one.powers.items():
        value = sheet.value(name) or 1.0
        scale = power / value if one.relation.is_product else power
        for error, moved in (sheet.errors_of(name) or {}).items():
            slopes[error] = slopes.get(error, 0.0) + scale * moved
    return Condition(one.relation.name, one.misfit(sheet.value) or 0.0, slopes)


def apart(conditions: Sequence[Condition], known: Errors) -> tuple[list[Condition], Errors]:
    """The same with a trace of an error of its own in each, so that no two can say the same."""
    own, made = dict(known), []
    for one in conditions:
        name = f"own_{one.name}"
        square = math.fsum((slope * known.get(of, 0.0)) ** 2 for of, slope in one.slopes.items())
        own[name] = TRACE * (math.sqrt(square) or 1.0)
        made.append(Condition(one.name, one.misfit, {**one.slopes, name: 1.0}))
    return made, own


def corrected(
    sheet: Sheet, relations: Sequence[Bound], conditions: Sequence[Condition], errors: Errors
) -> list[float] | None:
    """Misfits with these errors taken out of the readings, worked out anew.

    Returns:
        None where nothing bends: the slopes say the same.
    """
    moved: dict[str, Read] = {}
    for name, size in errors.items():
        if name in sheet.read:
            at = sheet.read[name]
            log = sheet.rules.quantities[name].log
            value = at.value * math.exp(min(max(-size, -50.0), 50.0)) if log else at.value - size
            moved[name] = Read(value, at.uncertainty)
    bends = [not one.bends_with.isdisjoint(moved) for one in relations]
    if not any(bends):
        return None
    read = {**sheet.read, **moved}
    found = []
    for one, about, bent in zip(relations, conditions, bends, strict=True):
        anew = one.misfit(lambda name: sheet.value(name, read)) if bent else None
        slopes, done = about.slopes, moved if anew is not None else {}
        rest = [
            slopes[name] * size
            for name, size in errors.items()
            if name in slopes and name not in done
        ]
        found.append((about.misfit if anew is None else anew) - math.fsum(rest))
    return found


def size_of(text: str) -> float:
    """A difference or a share as a plain number in SI base units."""
    return float(parse_quantity(text).to_base_units().magnitude)


def rules_of(data: Mapping[str, Any]) -> Rules:
    """What `data/cross_check/` says of quantities and relations, in the shape used here."""
    quantities = {
        name: Quantity(
            log=one.get("log") == "yes",
            shares=one.get("shares", {}),
            of=tuple(one.get("of", ())),
            rounding="rounding" in one,
            step=size_of(one["step"]) if "step" in one else 0.0,
            tenfold="tenfold" in one,
            figure="figure" in one,
        )
        for name, one in data["quantities"].items()
    }
    parts = {name: _relation(name, one) for name, one in data["relations"]["parts"].items()}
    relations = tuple(_relation(name, one) for name, one in data["relations"]["relations"].items())
    return Rules(quantities, parts, relations)


def _relation(name: str, one: Mapping[str, Any]) -> Relation:
    is_product = "product" in one
    written = one["product"] if is_product else one["sum"]
    return Relation(
        name=name,
        powers=tuple((tuple(names.split(" or ")), float(n)) for names, n in written.items()),
        is_product=is_product,
        errors={error: float(times) for error, times in one.get("errors", {}).items()},
        only=one.get("only", ""),
        weak=one.get("weak") == "yes",
    )
