"""What a reading is held to in this visit: the plate, the instructions, a copy, what is in force.

A step lists the ways. The first of which all is known holds.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from calcs.engine.declarations import Compare
from calcs.engine.reference import PROVENANCES, DatedValue, InForce
from calcs.engine.traced import si
from calcs.engine.units import Q, join_unit, read_quantity, same_kind, short_number
from calcs.engine.verdict_words import limit_text, places_shown

PLATE = "plate"  # what a reading is set to
WIDTHS = ("either_side", "below", "above")  # how far from it the reading may be
BOUNDS = ("at_least", "at_most")
WIDEST = "unless_wider_than"  # a share of the plate beyond which the way says nothing


KEYS = (PLATE, *WIDTHS, *BOUNDS, WIDEST)
MOST_PLACES = 4  # after a conversion a figure can have many
TINY = 1e-9  # the last digits of a float


@dataclass(frozen=True)
class Known:
    """All that a visit knows when a reading is judged.

    Args:
        readings: Unit and label of every reading there is, by its name.
        typed: What was typed of them: `{"value": text, "unit": text}` by name.
        in_force: The figures on the day of the test, the reader's own among them.
        answers: What was answered of the visit: the gas, the flue and so on.
    """

    readings: Mapping[str, Mapping[str, Any]]
    typed: Mapping[str, Mapping[str, Any]]
    in_force: InForce
    answers: Mapping[str, str] = field(default_factory=dict)

    def fits(self, way: Mapping[str, Any]) -> bool:
        """Whether nothing that was answered speaks against a way."""
        when = way.get("when", {})
        return all(self.answers.get(each) in (None, option) for each, option in when.items())

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
        cell, unit = self.typed[name], str(self.readings[name]["unit"])
        return read_quantity(name, str(cell["value"]), str(cell.get("unit") or unit), (unit,))


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
    """

    low: Q | None
    high: Q | None
    plate: Q | None
    source: str
    figure: DatedValue | None
    stated: tuple[Q, ...]

    def limit(self, unit: str) -> str:
        """The limits in words, from one to the other or with "at most"."""
        bound = self.low if self.low is not None else self.high
        places = max(_places(one, unit) for one in self.stated)
        shown = Compare(PLATE, bound, self.low, self.high, unit=unit, places=places)
        return limit_text(shown, places_shown(shown))

    def plate_text(self, unit: str) -> str:
        """What is stated, in the unit of the reading; empty where nothing is."""
        if self.plate is None:
            return ""
        return join_unit(short_number(float(self.plate.to(unit).magnitude), 9), unit)


def held_to(ways: Sequence[Mapping[str, Any]], known: Known) -> HeldTo | None:
    """The first way of which all is known, or None.

    Args:
        ways: Each names readings or figures: `plate` with `either_side`, or with `below` and
            `above`; or `at_least`, `at_most` or both. A width in percent is a share of the plate.
        known: What the visit knows.

    Raises:
        Refusal: A reading that it rests on can't be used.
    """
    for way in filter(known.fits, ways):
        found = {
            key: known.value(way[key]) for key in (PLATE, *WIDTHS, *BOUNDS, WIDEST) if key in way
        }
        if all(value is not None for value in found.values()) and not _too_wide(found):
            return _limits(way, found, known)
    return None


def missing(ways: Sequence[Mapping[str, Any]], known: Known) -> Iterator[str]:
    """Readings of the first way that were not typed: what to ask for where no way is known."""
    way: Mapping[str, Any] = next(filter(known.fits, ways), {})
    for key in KEYS:
        if way.get(key) in known.readings and not known.has(way[key]):
            yield way[key]


def _limits(way: Mapping[str, Any], found: Mapping[str, Any], known: Known) -> HeldTo:
    plate, low, high = found.get(PLATE), found.get("at_least"), found.get("at_most")
    if plate is not None:
        low, high = plate - _width(found, "below"), plate + _width(found, "above")
    rests_on = [way[key] for key in (*WIDTHS, *BOUNDS) if key in way]
    figures = [known.in_force.dated_value(name) for name in rests_on if name not in known.readings]
    weakest = max(figures, key=lambda one: PROVENANCES.index(one.provenance), default=None)
    stated_by = rests_on[0].partition(".")[0]
    source = weakest.provenance if weakest else stated_by
    return HeldTo(low, high, plate, source, weakest, tuple(found.values()))


def _places(stated: Q, unit: str) -> int:
    """Decimal places that a figure was stated with; none of one that is a share of another."""
    if not same_kind(stated.units, unit):
        return 0
    number = short_number(float(stated.to(unit).magnitude), 9)
    return min(MOST_PLACES, len(number.partition(".")[2]))


def _too_wide(found: Mapping[str, Any]) -> bool:
    if WIDEST not in found:
        return False
    widest = si(found[PLATE]) * si(found[WIDEST])
    return any(si(_width(found, side)) > widest * (1 + TINY) for side in ("below", "above"))


def _width(found: Mapping[str, Any], side: str) -> Q:
    plate = found[PLATE]
    width = found[side] if side in found else found["either_side"]
    is_share = str(width.units) == "percent" and str(plate.units) != "percent"
    return plate * width if is_share else width
