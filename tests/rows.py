"""The rows of `tests/tables`: cases that a person can check against the book, run in every runtime.

A row gives inputs and what must come out. Where the answer is known from:
  `source:`   a published figure (the table's own `source:` counts for all its rows)
  `library:`  a function of `tests/libraries.py`, which asks a general-purpose library
  `working:`  a sum done by hand, written out
`shown:` gives answers as they are read, doubt and all; `verdicts_say:` and `notes_say:` words.
`tables:` gives what must stand in columns of an answer's tables: `{sections: {tube: [22 mm]}}`.
`charts:` gives points that a chart must have: `{along: {worst: [[8.4, 0.62]]}}`. A line has others.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from build_tools.problems import ProblemsFound
from build_tools.read_yaml import read_file

TABLES = Path(__file__).parent / "tables"
TODAY = "2026-11-25"  # UP/1B Edition 4 is in force
KEYS = {
    "id", "given", "using", "on", "expect", "shown", "verdicts", "verdicts_say", "notes",
    "notes_say", "refused", "uncertainty",
    "tables", "charts", "within", "source", "library", "working",
}  # fmt: skip


@dataclass(frozen=True)
class Row:
    """One case.

    Args:
        calculator: Id of the calculator.
        facts: The row as written.
        table_source: Source that holds for the whole table, if any.
    """

    calculator: str
    facts: Mapping[str, Any]
    table_source: str | None

    @property
    def id(self) -> str:
        """`gas_rate:round-numbers`."""
        return f"{self.calculator}:{self.facts['id']}"

    @property
    def from_outside(self) -> bool:
        """Whether the answer comes from a published figure or an independent library."""
        return bool(self.facts.get("library") or self.facts.get("source") or self.table_source)

    @property
    def request(self) -> dict[str, Any]:
        """The row as the bridge takes it."""
        return {
            "action": "run",
            "calculator": self.calculator,
            "today": self.facts.get("on", TODAY),
            "inputs": {name: _typed(value) for name, value in self.facts["given"].items()},
            "using": self.facts.get("using", {}),
        }


def _typed(value: Any) -> dict[str, Any]:
    if isinstance(value, list):
        return {"rows": [{name: {"value": cell} for name, cell in row.items()} for row in value]}
    return {"value": value}


def rows() -> list[Row]:
    """Every row of every table."""
    return [row for path in sorted(TABLES.glob("*.yaml")) for row in _table(path)]


def _table(path: Path) -> list[Row]:
    document = read_file(path, f"tests/tables/{path.name}")
    if document.problems:
        raise ProblemsFound(document.problems)
    table = document.value
    assert table["calculator"] == path.stem, f"{path.name} is a table of {table['calculator']}"
    found = [Row(path.stem, facts, table.get("source")) for facts in table["rows"]]
    for row in found:
        unknown = set(row.facts) - KEYS
        assert not unknown, f"{row.id} has keys that nothing reads: {sorted(unknown)}"
        told = row.from_outside or row.facts.get("working")
        assert told, f"{row.id} needs a source, a library or its working"
    return found
