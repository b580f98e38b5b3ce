"""The figures as they stand on one day: a limit is asked for by name, and its use remembered."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from calcs.engine.errors import NotHeld, NotInForce
from calcs.engine.reference import PRINTED, PROVENANCES, TYPED, DatedValue, OwnInstrument, Reference
from calcs.engine.traced import named
from calcs.engine.uncertainty import range_uncertainty, rounding_uncertainty
from calcs.engine.units import Q, parse_quantity, unit_code
from calcs.engine.written_day import written_day


@dataclass
class InForce(Mapping[str, Any]):
    """The figures as they stand on one day. Remembers which were used.

    Args:
        reference: All that is held.
        on: Day of the test.
        overrides: Figures the reader gives from their own copy, by name; of a table its rows.
        instruments: Those that the reader owns, by their kind.
        used: Dated values that were asked for.
        figures: Quantities that were made of them.
    """

    reference: Reference
    on: date
    overrides: Mapping[str, Any] = field(default_factory=dict)
    instruments: Mapping[str, OwnInstrument] = field(default_factory=dict)
    used: dict[str, DatedValue] = field(default_factory=dict)
    quantities: dict[tuple[str, str, str], Q] = field(default_factory=dict)

    def dated_value(self, name: str) -> DatedValue:
        """The value in force that day.

        Raises:
            KeyError: There is no such figure.
            NotInForce: The figure has no value for that day.
        """
        if name not in self.used:
            self.used[name] = self._find(name)
        return self.used[name]

    def _find(self, name: str) -> DatedValue:
        history = self.reference.history(name)
        if name.startswith("decision."):
            # A decision rule belongs to whoever judges today, not to the day of the test.
            return history[-1]
        dated_value = next(
            (dated_value for dated_value in reversed(history) if dated_value.in_force(self.on)),
            None,
        )
        if name in self.overrides:
            known = dated_value or history[-1]
            return _typed(known, self.overrides[name])
        if dated_value is None:
            raise NotInForce("test_date", told=_gap(history, self.on))
        return dated_value

    def __getitem__(self, name: str) -> Q:
        """The quantity in force.

        Raises:
            NotHeld: The source has the figure and this handbook does not.
        """
        dated_value = self.dated_value(name)
        if dated_value.value is None:
            raise NotHeld(
                None, figure=name, label=dated_value.label, source=dated_value.source_text
            )
        return self._quantity(dated_value, dated_value.value, dated_value.label)

    def _quantity(self, dated_value: DatedValue, text: str, label: str) -> Q:
        """One quantity of a value, made once: what is off in it is off wherever it is used."""
        key = (dated_value.name, text, label)
        if key not in self.quantities:
            made = named(parse_quantity(text), dated_value.name, label, role="figure")
            if dated_value.half_width is not None:
                made.standard_uncertainty = range_uncertainty(
                    made, parse_quantity(dated_value.half_width)
                )
            elif dated_value.uncertainty == PRINTED:
                made.standard_uncertainty = rounding_uncertainty(text, made.units)
            self.quantities[key] = made
        return self.quantities[key]

    def held(self, name: str) -> bool:
        """Whether the figure has a value for that day."""
        try:
            dated_value = self.dated_value(name)
        except NotInForce:
            return False
        return dated_value.value is not None or dated_value.rows is not None

    def text(self, name: str) -> str:
        """A figure's value as a plain word or number, unparsed."""
        return self.dated_value(name).value or ""

    def rows(self, table: str) -> tuple[Mapping[str, str], ...]:
        """Rows of a table as text, by column name; parse a cell with `cell`."""
        dated_value = self.dated_value(table)
        rows = dated_value.rows or ()
        # A reader's own rows go with the request, and another's may come to stand in their place.
        kept = {} if dated_value.provenance == TYPED else self.reference.kept
        key = (table, id(rows))  # the history holds every `rows` there is, so an id stays its own
        if key not in kept:
            columns = self.reference.columns(table)
            kept[key] = tuple(dict(zip(columns, row, strict=True)) for row in rows)
        found: tuple[Mapping[str, str], ...] = kept[key]
        return found

    def use_previous_edition(self, name: str) -> None:
        """Use the value that stood before the one in force, as the reader chose; the oldest stays.

        Raises:
            NotInForce: The figure has no value for that day.
        """
        history = self.reference.history(name)
        place = history.index(self._find(name))
        self.used[name] = history[max(0, place - 1)]

    def use_newest(self, name: str) -> None:
        """Use the newest value, as where a new edition may be used before the old one ends."""
        self.used[name] = self.reference.history(name)[-1]

    def lower_provenance(self, name: str, provenance: str) -> None:
        """Note that the cell used of a table has a weaker provenance than the table as a whole."""
        dated_value = self.dated_value(name)
        weaker = max((dated_value.provenance, provenance), key=PROVENANCES.index)
        self.used[name] = replace(dated_value, provenance=weaker)

    def override(self, name: str, value: Q) -> None:
        """Use a figure that the reader typed from their own copy in place of what is held."""
        known = self.reference.history(name)[-1]
        text = f"{value.magnitude!r} {unit_code(value.units)}"
        self.used[name] = _typed(known, text)

    def cell(self, table: str, text: str, label: str) -> Q:
        """A cell of a table as a quantity that the working names by `label`."""
        return self._quantity(self.dated_value(table), text, label)

    def __iter__(self) -> Iterator[str]:
        return iter(sorted(self.reference.names))

    def __len__(self) -> int:
        return len(self.reference.names)


def _typed(known: DatedValue, own: str | Sequence[Sequence[str]]) -> DatedValue:
    """The dated value with the reader's own figure in it, which stands for no range any more."""
    text = own if isinstance(own, str) else None
    rows = None if isinstance(own, str) else tuple(tuple(row) for row in own)
    uncertainty = PRINTED if known.half_width is not None else known.uncertainty
    return replace(
        known, value=text, rows=rows, start=date.min, until=None, provenance=TYPED, source=None,
        note=None, uncertainty=uncertainty, half_width=None,
    )  # fmt: skip


def _gap(history: tuple[DatedValue, ...], on: date) -> str:
    label = history[-1].label
    if on < history[0].start:
        return f"{label}: nothing is held for tests before {written_day(history[0].start)}."
    ended = max(one.until for one in history if one.until and one.until < on)
    return f"{label}: withdrawn after {written_day(ended)}; nothing replaces it here."
