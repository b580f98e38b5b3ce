"""The figures of `data/`, as the build hands them over: a limit is asked for by name and by day."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from typing import Any

from calcs.engine.errors import NotHeld, NotInForce
from calcs.engine.traced import named
from calcs.engine.uncertainty import range_uncertainty, rounding_uncertainty
from calcs.engine.units import Q, parse_quantity, unit_code
from calcs.engine.written_day import written_day

# From the strongest provenance to the weakest. A verdict that rests on several has the weakest.
PROVENANCES = (
    "instructions-govern",
    "published",
    "host-copy",
    "typed-by-reader",
    "secondary",
    "common-practice",
    "from-memory",
    "invented",
    "not-held",
)
HOST_COPY = "host-copy"  # provenance of a figure that a host read in its own copy
PRINTED = "printed"  # uncertainty of a figure that is good to half of its last digit
TYPED = "typed-by-reader"  # provenance of a figure the reader gave from their own copy


@dataclass(frozen=True)
class OwnInstrument:
    """An instrument that the reader owns.

    Args:
        kind: Its id in data/instruments.yaml.
        name: What the reader calls it.
        serial: Its serial number.
        resolution: Number, space, unit; empty where it is as usual for its kind.
        accuracy: The same.
        until: The last day of its calibration, empty where none was typed.
        is_past: That day is over.
    """

    kind: str
    name: str = ""
    serial: str = ""
    resolution: str = ""
    accuracy: str = ""
    until: str = ""
    is_past: bool = False


@dataclass(frozen=True)
class DatedValue:
    """One dated value of a figure. Practice without a first day starts on `date.min`.

    Args:
        value: Number, space, unit; None when the source has it and this handbook does not.
        rows: Rows of a table, None for a single value.
        uncertainty: "printed" where the figure is good to half of its last digit, None where it is
            taken as it stands.
        half_width: Half of the range that the figure stands for, or a share of it, where that is
            known; it goes before `uncertainty`.
    """

    name: str
    label: str
    value: str | None
    rows: tuple[tuple[str, ...], ...] | None
    start: date
    until: date | None
    edition: str | None
    provenance: str
    source: Mapping[str, str] | None
    note: str | None = None
    uncertainty: str | None = None
    half_width: str | None = None

    def in_force(self, on: date) -> bool:
        """Whether the value may be used for a test on that day."""
        return self.start <= on and (self.until is None or on <= self.until)

    @property
    def first_day(self) -> str | None:
        """The day from which it is in force; None for practice without one."""
        return None if self.start == date.min else self.start.isoformat()

    @property
    def source_text(self) -> str:
        """Title and place of the source in one line."""
        if self.provenance == TYPED:
            return "Your own copy"
        if not self.source:
            return "no published source"
        return ", ".join(filter(None, (self.source.get("title"), self.source.get("where"))))


class Reference:
    """Every figure, table, instrument and label of one edition of the handbook.

    Args:
        bundle: What `build_tools.runtime.bundle.make` gives; its edition may be left out.
    """

    def __init__(self, bundle: Mapping[str, Any]) -> None:
        self.edition: str = bundle.get("edition", "")
        self.instruments: Mapping[str, Any] = bundle["instruments"]
        self.sources: Mapping[str, Any] = bundle["sources"]
        self._words: Mapping[str, Any] = bundle["words"]
        self._bundle = bundle
        self._histories: dict[str, tuple[DatedValue, ...]] = {}
        # What is made of whole tables and of the words, which stay as they are: made once.
        self.kept: dict[tuple[Any, ...], Any] = {}

    @cached_property
    def names(self) -> frozenset[str]:
        """Names of all figures and tables."""
        return frozenset(self._bundle["figures"]) | frozenset(self._bundle["tables"])

    @property
    def readings(self) -> Mapping[str, Mapping[str, str]]:
        """Label and unit of every reading of a visit, by its name."""
        found: Mapping[str, Mapping[str, str]] = self._bundle.get("readings", {})
        return found

    @property
    def steps(self) -> Mapping[str, Mapping[str, Any]]:
        """Every step that answers, by `procedure.step`."""
        found: Mapping[str, Mapping[str, Any]] = self._bundle.get("steps", {})
        return found

    @property
    def cross_check(self) -> Mapping[str, Any]:
        """How the readings of a visit hang together, by the stems of `data/cross_check/`."""
        found: Mapping[str, Any] = self._bundle.get("cross_check", {})
        return found

    @property
    def assumed(self) -> Mapping[str, str]:
        """What is taken for the answer to a question of the visit that nobody answered."""
        found: Mapping[str, str] = self._bundle.get("assumed", {})
        return found

    def words(self, calculator: str) -> Mapping[str, Any]:
        """Labels and sentences of one calculator; empty when nobody has written them."""
        found: Mapping[str, Any] = self._words.get(calculator, {})
        return found

    def sayings(self, calculator: str, group: str) -> Mapping[str, str]:
        """Sentences by id that a calculator may say, its own before those that several share.

        Args:
            calculator: Its id.
            group: "notes", "rulings" or "refusals".
        """
        return ChainMap(
            *(self._words.get(one, {}).get(group, {}) for one in (calculator, "_shared"))
        )

    def history(self, name: str) -> tuple[DatedValue, ...]:
        """Every dated value of a figure or table, oldest first.

        Raises:
            KeyError: There is no such figure.
        """
        if name not in self._histories:
            figure = self._bundle["figures"].get(name) or self._bundle["tables"][name]
            self._histories[name] = tuple(
                _dated_value(name, figure, value) for value in figure["values"]
            )
        return self._histories[name]

    def facts(self, name: str) -> Mapping[str, Any]:
        """What is said of a figure or table besides its values: label, meaning, unit, columns."""
        found: Mapping[str, Any] = self._bundle["figures"].get(name) or self._bundle["tables"][name]
        return found

    def columns(self, table: str) -> tuple[str, ...]:
        """Names of a table's columns."""
        return tuple(column["name"] for column in self._bundle["tables"][table]["columns"])


def _dated_value(name: str, figure: Mapping[str, Any], value: Mapping[str, Any]) -> DatedValue:
    rows = value.get("rows")
    return DatedValue(
        name=name,
        label=figure.get("label") or figure["title"],
        value=value.get("value"),
        rows=tuple(tuple(row) for row in rows) if rows else None,
        start=date.fromisoformat(value["from"]) if value["from"] else date.min,
        until=date.fromisoformat(value["until"]) if value.get("until") else None,
        edition=value.get("edition"),
        provenance=value["provenance"],
        source=value.get("source"),
        note=value.get("note"),
        uncertainty=figure.get("uncertainty"),
        half_width=value.get("half_width"),
    )


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
