"""The figures of `data/`, as the build hands them over: every dated value, and all words."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

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
