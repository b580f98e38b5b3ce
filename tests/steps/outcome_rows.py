"""The rows of `tests/steps`: what a visit holds, and the line that a step shows for it.

A row says:

  `step`       its id in the procedure that the file is named after
  `readings`   by name as number, space, unit, or the word that is chosen; they go before those that
               all rows of the file share
  `without`    of those, the ones that were not typed
  `answers`    of the visit: the gas, the flue and so on, by question
  `overrides`  figures of the reader's own copy of a source
  `today`      day of the test, else `TODAY`
  `held_to`    what is shown before anything is typed: the limit and where it is from
  `line`       outcome, how far off, and what is missing
  `ahead`      what to watch for in a run of the meter that is still to be taken
  `beside`     the reading that it stands beside, in the record and on paper
  `act`        what to do next; `reason` what stands under it
  `working`    how a person comes to it, by hand

What a row does not say is not compared. No tool may write what a row expects.

Under `checks` stand the steps that are answered by yes, no or does not apply: `step`, `reading`,
the `act` that "no" asks for, and `left: none` where there is no second reading of how it was left.
Each becomes the rows of `OF_A_CHECK`: what the words mean is the same in all of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from build_tools.sources.read_yaml import read_file
from tests.tables.rows import TODAY

FOLDER = Path(__file__).parent
NUMBER = re.compile(r"-?[\d.]+( |$)")
PUT_RIGHT = "Within, put right."
# As found, as left, the line of the step, whether it asks for the act; then the line as found.
OF_A_CHECK = (
    ("yes", None, "Within.", False, None),
    ("no", None, "Outside.", True, None),
    ("does not apply", None, "", False, None),
    (None, None, "", False, None),
    ("no", "yes", PUT_RIGHT, False, "Outside."),
    ("no", "no", "Outside.", True, "Outside."),
    ("yes", "no", "Outside.", True, "Within."),
    ("yes", "yes", "Within.", False, "Within."),
    (None, "no", "Outside.", True, ""),
)
COMPARED = ("held_to", "line", "act", "reason", "ahead", "beside")


@dataclass(frozen=True)
class OutcomeRow:
    """One row with what its file shares."""

    procedure: str
    facts: dict[str, Any]
    shared: dict[str, str]

    @property
    def id(self) -> str:
        return f"{self.procedure}:{self.facts['id']}"

    @property
    def step(self) -> str:
        return f"{self.procedure}.{self.facts['step']}"

    @property
    def request(self) -> dict[str, Any]:
        """What the page asks."""
        left_out = self.facts.get("without", [])
        held = {name: text for name, text in self.shared.items() if name not in left_out}
        typed = {**held, **self.facts.get("readings", {})}
        return {
            "action": "outcomes",
            "today": self.facts.get("today", TODAY),
            "readings": {name: _cell(text) for name, text in typed.items()},
            "answers": self.facts.get("answers", {}),
            "overrides": self.facts.get("overrides", {}),
            "steps": [self.step],
        }

    @property
    def expected(self) -> dict[str, str]:
        return {name: self.facts[name] for name in COMPARED if name in self.facts}


def _cell(text: str) -> dict[str, str]:
    """A number with its unit, or a word that is chosen."""
    if not NUMBER.match(text):
        return {"value": text}
    value, _, unit = text.partition(" ")
    return {"value": value, "unit": unit}


def told(line: dict[str, Any]) -> dict[str, str]:
    """What a reader sees of a step's line, as rows write it."""
    held, ahead = line["held_to"], "ahead" in line
    shown = {
        "held_to": f"{held['text']} · {held['source']}" if held else "",
        "line": line["text"],
        "act": line["act"],
        "reason": line["reason"],
        "beside": line["reading"],
        "ahead": " ".join(line["ahead"][each] for each in ("text", "takes")) if ahead else "",
    }
    return {name: text.replace("\N{NO-BREAK SPACE}", " ") for name, text in shown.items()}


def outcome_rows() -> list[OutcomeRow]:
    """Every row of every file."""
    found = []
    for path in sorted(FOLDER.glob("*.yaml")):
        table = read_file(path, f"tests/steps/{path.name}").value
        rows = [*table["rows"], *(row for each in table.get("checks", ()) for row in _of(each))]
        found += [OutcomeRow(path.stem, row, table.get("shared", {})) for row in rows]
    return found


def _of(check: dict[str, str]) -> Iterator[dict[str, Any]]:
    """The rows of one check."""
    step, reading, act = (check[key] for key in ("step", "reading", "act"))
    has_left = check.get("left") != "none"
    for found, left, line, asks, line_as_found in OF_A_CHECK:
        if left and not has_left:
            continue
        given = {reading: found, f"{reading}_left": left}
        readings = {name: word for name, word in given.items() if word}
        shared = {"readings": readings, "working": "what the words mean"}
        name = f"{step}-{found}-{left}".replace(" ", "-")
        yield {**shared, "id": name, "step": step, "line": line, "act": act if asks else ""}
        if line_as_found is not None:
            yield {**shared, "id": f"{name}-found", "step": f"{step}.found", "line": line_as_found}
