"""The rows of `tests/tables`: cases that a person can check against the book, run in every runtime.

A row gives inputs and what must come out, and says how that is known. One of:
  `published: {id, where}`    it was read in the source itself
  `secondary: {id, where}`    it was read in what quotes the source
  `library: name`             a function of `libraries.py` asks a general-purpose library
  `from_memory: {id, where}`  it is remembered, and the source is where to look it up
  `working: words`            a sum done by hand, written out. It may stand beside the others
`id` is one of `data/sources.yaml`. What stands in a source is a cell, an example or a limit that a
reading is compared with. A sum by a rule that was read is a `working`, whoever has the rule.
`python -m tests.tables.rows` counts them by kind.
`within` is how far an answer may be off. Wider than ORDINARY it needs its reason in `because`.
`shown:` gives answers as they are read, ± and all; `verdicts_say:` and `notes_say:` words.
`tables:` gives what must stand in columns of an answer's tables: `{sections: {tube: [22 mm]}}`.
`charts:` gives points that a chart must have: `{along: {worst: [[8.4, 0.62]]}}`. A line has others.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from build_tools.setup.paths import ROOT
from build_tools.sources.problems import ProblemsFound
from build_tools.sources.read_yaml import read_file
from build_tools.sources.rules.table_of_proof import (
    CITED,
    HOW,
    KEYS,
    LIBRARY,
    OUTSIDE,
    WORKING,
    not_known,
)

TABLES = Path(__file__).parent
TODAY = "2026-11-25"  # UP/1B Edition 4 is in force
ORDINARY = 1e-3  # of the answer: what is within it says so without a reason


@dataclass(frozen=True)
class Row:
    """One case.

    Args:
        calculator: Id of the calculator.
        facts: The row as written.
    """

    calculator: str
    facts: Mapping[str, Any]

    @property
    def id(self) -> str:
        """`gas_rate:round-numbers`."""
        return f"{self.calculator}:{self.facts['id']}"

    @property
    def kind(self) -> str:
        """How the answer is known. A working beside a source or a library explains it."""
        told = [kind for kind in (*CITED, LIBRARY) if kind in self.facts]
        return told[0] if told else WORKING

    @property
    def from_outside(self) -> bool:
        """Whether the answer comes from a source that was read or an independent library."""
        return self.kind in OUTSIDE

    @property
    def request(self) -> dict[str, Any]:
        """The row as the bridge takes it."""
        return {
            "action": "run",
            "calculator": self.calculator,
            "today": self.facts.get("on", TODAY),
            "inputs": {name: _typed(value) for name, value in self.facts["given"].items()},
            "overrides": self.facts.get("overrides", {}),
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
    assert set(table) == {"calculator", "rows"}, f"{path.name}: each row says where it is from"
    found = [Row(path.stem, facts) for facts in table["rows"]]
    for row in found:
        if wrong := fault(row.facts):
            raise AssertionError(f"{row.id}: {wrong}")
    return found


def fault(facts: Mapping[str, Any]) -> str:
    """What is wrong with how a row is written; empty where nothing is."""
    unknown = sorted(set(facts) - set(KEYS))
    if unknown:
        return f"It has keys that nothing reads: {unknown}. {HOW if 'source' in unknown else ''}"
    return not_known(facts, sources())


@cache
def sources() -> dict[str, Any]:
    """The sources of the project, by id."""
    found: dict[str, Any] = read_file(ROOT / "data" / "sources.yaml", "data/sources.yaml").value
    return found


def by_kind() -> str:
    """A table of how many rows of each calculator are known in which way."""
    kinds = (*CITED, LIBRARY, WORKING)
    counted = Counter((row.calculator, row.kind) for row in rows())
    names = sorted({calculator for calculator, _ in counted})
    table: list[tuple[str, Iterable[str | int]]] = [
        ("", kinds),
        *((name, [counted[name, kind] for kind in kinds]) for name in names),
        ("all", [sum(counted[name, kind] for name in names) for kind in kinds]),
    ]
    return "\n".join(
        f"{head:26}" + "".join(f"{cell:>13}" for cell in cells) for head, cells in table
    )


if __name__ == "__main__":
    print(by_kind())  # noqa: T201  it is what this command is for
