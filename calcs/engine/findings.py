"""What a calculator says of the readings: verdicts, notes, and rows beside the answers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from calcs.engine.chart import Chart
from calcs.engine.units import Q

# Decision rules of a verdict (ILAC-G8:09/2019, 4.2): figures decision.guard_<rule>.
GUARDED = "full"  # a safety limit: the whole uncertainty must be clear of it
SETTING = "simple"  # a setting against a plate or a maker's target: as it reads, uncertainty shown


@dataclass(frozen=True)
class Run:
    """A timed run: in a longer one, the steps of its instruments matter less.

    Args:
        elapsed: How long it took.
        instruments: Names of the instruments whose readings grow with it.
    """

    elapsed: Q
    instruments: tuple[str, ...]


@dataclass(frozen=True)
class Compare:
    """A reading against a limit, judged with the reading's uncertainty.

    Args:
        name: Name of the verdict.
        reading: What was read or worked out.
        low: Least permitted value, None for no such limit.
        high: Greatest permitted value, None for no such limit.
        figures: Figures that the limit comes from, the chief one first.
        unit: Unit to show it in; the reading's own if None.
        places: Decimal places to show.
        rule: How uncertainty counts unless the reader chooses: `GUARDED` for a safety limit,
            `SETTING` for what is set against a data plate or a maker's target.
        span: Greatest expanded uncertainty with which a pass is given, a difference: how far the
            healthy value is from the limit, as oxygen of clean air from the least permitted. Where
            None, `calcs.engine.decide.ceiling` takes half of what lies between the limits.
        run: The timed run that the reading came from, if a longer one would know it better.
        expanded: Expanded uncertainty of the reading, where the formula has worked it out itself.
        strict: The reading must be below `high` and above `low`; on the limit is not enough.
        provenance: Provenance of the table's row that the limit is from, where it has its own.
    """

    name: str
    reading: Q
    low: Q | None = None
    high: Q | None = None
    figures: tuple[str, ...] = ()
    unit: str | None = None
    places: int = 1
    expanded: Q | None = None
    strict: bool = False
    provenance: str | None = None
    rule: str = GUARDED
    span: Q | None = None
    run: Run | None = None


@dataclass(frozen=True)
class Ruling:
    """A verdict that no number decides (a smell of gas) or that no limit is held for.

    Args:
        name: Name of the verdict.
        outcome: "meets", "does_not_meet", "cannot_tell" or "not_judged".
        reason: Id of the words in `rulings` of the calculator's content.
        figures: Figures it rests on.
        values: Values for the words.
        provenance: As for `Compare`.
    """

    name: str
    outcome: str
    reason: str
    figures: tuple[str, ...] = ()
    values: Mapping[str, str] = field(default_factory=dict)
    provenance: str | None = None


@dataclass(frozen=True)
class Note:
    """Advice that goes with the answer: id of its words in `notes`, and the values in them."""

    name: str
    values: Mapping[str, str] = field(default_factory=dict)


Cell: TypeAlias = float | str | None


@dataclass(frozen=True)
class Table:
    """Rows beside the answers, such as each section of a pipe run.

    Args:
        name: Name of one of the calculator's tables.
        rows: One mapping a row by column name: a number in the column's unit, a word, or None.
    """

    name: str
    rows: tuple[Mapping[str, Cell], ...]


Finding: TypeAlias = Compare | Ruling | Note | Table | Chart
