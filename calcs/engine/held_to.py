"""What a reading is held to in this visit: the plate, the instructions, a copy, what is in force.

A step lists the ways. The first of which all is known holds.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from calcs.engine.findings import Compare
from calcs.engine.in_force import InForce
from calcs.engine.reference import PROVENANCES, DatedValue
from calcs.engine.rounding import short_number
from calcs.engine.traced import si
from calcs.engine.units import Q, is_step, join_unit, read_quantity, same_kind, unit_code
from calcs.engine.verdict_words import limit_text, places_shown

PLATE = "plate"  # what a reading is set to
AROUND = "around"  # the middle of what is permitted, which nobody sets
WIDTHS = ("either_side", "below", "above")  # how far from it the reading may be
BOUNDS = ("at_least", "at_most")
LESS = "less"  # what is taken off the upper bound
WIDEST = "unless_wider_than"  # a share of the plate beyond which the way says nothing

KEYS = (PLATE, AROUND, *WIDTHS, *BOUNDS, LESS, WIDEST)
STATED_BY = ("plate", "instructions")  # rooms of readings that an appliance states itself
OWN_COPY = "typed-by-reader"
MOST_PLACES = 4  # after a conversion a figure can have many
FEW_PLACES = 2
TINY = 1e-9  # the last digits of a float


@dataclass(frozen=True)
class Known:
    """All that a visit knows when a reading is judged.

    Args:
        readings: Unit and label of every reading there is, by its name.
        typed: What was typed of them: `{"value": text, "unit": text}` by name.
        in_force: The figures on the day of the test, the reader's own among them.
        answers: What was answered of the visit: the gas, the flue and so on, and what is assumed of
            what was not.
    """

    readings: Mapping[str, Mapping[str, Any]]
    typed: Mapping[str, Mapping[str, Any]]
    in_force: InForce
    answers: Mapping[str, str] = field(default_factory=dict)
    # What has been read of them: one reading is looked at by many rules.
    _read: dict[str, Q] = field(default_factory=dict, compare=False, repr=False)

    def fits(self, way: Mapping[str, Any]) -> bool:
        """Whether what was answered is what a way is for."""
        return all(
            self.answers.get(question) in listed(options)
            for question, options in way.get("when", {}).items()
        )

    def may_fit(self, way: Mapping[str, Any]) -> bool:
        """Whether nothing that was answered speaks against it."""
        return all(
            question not in self.answers or self.answers[question] in listed(options)
            for question, options in way.get("when", {}).items()
        )

    def label(self, name: str) -> str:
        """What a reader calls a reading or a figure."""
        if name in self.readings:
            return str(self.readings[name]["label"])
        return str(self.in_force.reference.facts(name).get("label", name))

    def has(self, name: str) -> bool:
        """Whether a reading was typed."""
        return bool(str((self.typed.get(name) or {}).get("value") or "").strip())

    def value(self, name: str) -> Q | None:
        """A reading as it was typed or a figure in force; None where there is none.

        Raises:
            Refusal: What was typed is no such reading.
        """
        if name not in self.readings:
            return self.in_force[name] if self.in_force.held(name) else None
        if not self.has(name):
            return None
        if name not in self._read:
            cell, unit = self.typed[name], str(self.readings[name]["unit"])
            found = read_quantity(name, str(cell["value"]), str(cell.get("unit") or unit), (unit,))
            self._read[name] = found
        return self._read[name]


@dataclass(frozen=True)
class HeldTo:
    """Limits of one reading, and where they are from.

    Args:
        low: Least permitted value, None for no such limit.
        high: Greatest permitted value, None for no such limit.
        plate: What the reading is set to, None where there is only a limit.
        source: "plate", "instructions", or the provenance of the weakest figure it rests on.
        figure: That figure, None where the appliance states the limit itself.
        stated: The figures that the limits were made of.
        way: What its author declared, for what else it says.
        typed_unit: Unit in which the reader typed it, None where the handbook gives it.
    """

    low: Q | None
    high: Q | None
    plate: Q | None
    source: str
    figure: DatedValue | None
    stated: tuple[Q, ...]
    way: Mapping[str, Any] = field(default_factory=dict)
    typed_unit: str | None = None

    @property
    def is_setting(self) -> bool:
        """Whether a hand sets it: then it is judged as it reads."""
        return self.plate is not None

    def unit(self, usual: str) -> str:
        """The unit that the limits are shown in: the reader's, or the usual one of their kind."""
        if self.typed_unit is not None:
            return self.typed_unit
        bound: Q = self.low if self.low is not None else self.high
        return usual if same_kind(bound.units, usual) else unit_code(bound.units)

    def limit(self, unit: str) -> str:
        """The limits in words, as a verdict has them."""
        bound = self.low if self.low is not None else self.high
        places = self.places(unit)
        shown = Compare(PLATE, bound, self.low, self.high, unit=unit, places=places)
        whole = self._whole(unit, places)
        return limit_text(shown, max(FEW_PLACES, places_shown(shown)) if whole is None else whole)

    def places(self, unit: str) -> int:
        """Decimal places that the limits were stated with."""
        return max(_places(one, unit) for one in self.stated)

    def _whole(self, unit: str, least: int) -> int | None:
        """Few places that show all of each limit: none may take it for wider. None for more."""
        limits = [float(one.to(unit).magnitude) for one in (self.low, self.high) if one is not None]
        for places in range(least, max(least, FEW_PLACES) + 1):
            if all(abs(round(one, places) - one) <= TINY * abs(one) for one in limits):
                return places
        return None

    def plate_text(self, unit: str) -> str:
        """What is stated, in the unit of the reading; empty where nothing is."""
        if self.plate is None:
            return ""
        return join_unit(short_number(float(self.plate.to(unit).magnitude), 9), unit)


def held_to(ways: Sequence[Mapping[str, Any]], known: Known) -> HeldTo | None:
    """The first way of which all is known, or None.

    Args:
        ways: Each names readings or figures: `plate` or `around` with `either_side`, or with
            `below`, `above` or both; or `at_least`, `at_most` or both, with `less` to take off the
            latter. A width in percent is a share of the middle.
        known: What the visit knows.

    Raises:
        Refusal: A reading that it rests on can't be used.
    """
    for way in filter(known.fits, ways):
        found = {key: known.value(way[key]) for key in KEYS if key in way}
        if all(value is not None for value in found.values()) and not _too_wide(found):
            return _limits(way, found, known)
    return None


def missing(ways: Sequence[Mapping[str, Any]], known: Known) -> list[str]:
    """What the way that lacks least lacks: readings not typed, figures that are not held."""
    lacking = [
        [way[key] for key in KEYS if key in way and not _is_known(way[key], known)]
        for way in filter(known.fits, ways)
    ]
    return min(filter(None, lacking), key=len, default=[])


def listed(value: Any) -> list[Any]:
    """One or several, as an author writes either."""
    return list(value) if isinstance(value, list | tuple) else [value]


def _is_known(name: str, known: Known) -> bool:
    return known.has(name) if name in known.readings else known.in_force.held(name)


def _limits(way: Mapping[str, Any], found: Mapping[str, Any], known: Known) -> HeldTo:
    low, high = found.get("at_least"), found.get("at_most")
    middle = found.get(PLATE, found.get(AROUND))
    if middle is not None:
        low, high = _beside(middle, found, "below", -1), _beside(middle, found, "above", 1)
    if LESS in found:
        high = high - found[LESS]
    rests_on = [way[key] for key in (*WIDTHS, *BOUNDS, AROUND, LESS) if key in way]
    figures = [known.in_force.dated_value(name) for name in rests_on if name not in known.readings]
    weakest = max(figures, key=lambda one: PROVENANCES.index(one.provenance), default=None)
    room = rests_on[0].partition(".")[0]
    source = weakest.provenance if weakest else room
    if any(one.provenance == OWN_COPY for one in figures) or not (weakest or room in STATED_BY):
        source = OWN_COPY  # a reader's own figure is named wherever it counts
    chief = next(key for key in (PLATE, AROUND, *BOUNDS) if key in way)
    unit = unit_code(found[chief].units) if way[chief] in known.readings else None
    return HeldTo(low, high, found.get(PLATE), source, weakest, tuple(found.values()), way, unit)


def _beside(middle: Q, found: Mapping[str, Any], side: str, sign: int) -> Q | None:
    """The bound on one side; None where the way names no width there."""
    if side not in found and "either_side" not in found:
        return None
    return middle + sign * _width(middle, found, side)


def _places(stated: Q, unit: str) -> int:
    """Decimal places that a figure was stated with; none of one that is a share of another."""
    if not same_kind(stated.units, unit):
        return 0
    # A width on a scale of temperature is no temperature.
    own = stated if is_step(stated.units) else stated.to(unit)
    number = short_number(float(own.magnitude), 9)
    # After a conversion the digits say nothing of how finely it was stated.
    most = MOST_PLACES if unit_code(stated.units) == unit or is_step(stated.units) else FEW_PLACES
    return min(most, len(number.partition(".")[2]))


def _too_wide(found: Mapping[str, Any]) -> bool:
    if WIDEST not in found:
        return False
    plate = found[PLATE]
    widest = si(plate) * si(found[WIDEST])
    sides = [side for side in ("below", "above") if side in found or "either_side" in found]
    return any(si(_width(plate, found, side)) > widest * (1 + TINY) for side in sides)


def _width(middle: Q, found: Mapping[str, Any], side: str) -> Q:
    width = found[side] if side in found else found["either_side"]
    is_share = str(width.units) == "percent" and str(middle.units) != "percent"
    return middle * width if is_share else width
