"""What hosts fill in that can't be right: held to the same tests as what a reader types.

A table in the wrong order, or a figure ten times as large, would pass what nothing permits.
"""

import json
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from build_tools.runtime import bundle as bundles
from build_tools.sources.days import example_day
from build_tools.sources.filled import FILLS, Fill
from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project, kind_of

FIX = "look at your copy once more, and have a second person read it"
EXPECTED = "What is filled in is held to the same tests as a figure that a reader types."


def tried(project: Project) -> list[Problem]:
    """Each figure and row of a host's that the calculators would refuse from a reader."""
    fills = [*project.fills(*FILLS)]
    if not fills:
        return []
    from calcs.engine.reference import Reference  # noqa: PLC0415  calcs may be half written

    beneath = {k: v for k, v in project.documents.items() if kind_of(k) not in FILLS}
    contents = bundles.contents(replace(project, documents=beneath))
    reference = Reference(json.loads(json.dumps({"edition": "", **contents})))
    day = example_day(contents, project.day)
    return [problem for fill in fills for problem in _of_one(fill, reference, day)]


def _of_one(fill: Fill, reference: Any, day: Any) -> Iterator[Problem]:
    from calcs.domain.tightness.permitted_drop import beyond_any_held  # noqa: PLC0415  the same
    from calcs.engine.overrides import read_overrides  # noqa: PLC0415  the same
    from calcs.engine.typed_rows import can_be_typed  # noqa: PLC0415  the same

    node = fill.node[fill.key]
    if fill.key == "rows" and not can_be_typed(reference.facts(fill.name)["columns"]):
        found = f"'{fill.name}' is no table that a host can fill in."
        expected = "Nothing here would find a row of it that was copied wrongly."
        yield fill.node["of"].problem(found, expected, "delete it: its calculator asks for it")
        return
    given = _rows(node, reference.columns(fill.name)) if fill.key == "rows" else node.text
    _, refusals = read_overrides(None, reference, {fill.name: given}, day)
    for refusal in refusals:
        place = _row_of(node, refusal.field or "")
        label = "This row" if place is not node else "What is filled in"
        said = refusal.as_json({refusal.field or fill.name: label})["message"]
        yield place.problem(str(said), EXPECTED, FIX)
    if fill.key == "rows" and not refusals:
        for place, told in beyond_any_held(fill.name, given, reference, day):
            yield node[place].problem(told, EXPECTED, FIX)


def _rows(node: Node, columns: tuple[str, ...]) -> list[list[str]]:
    return [
        [row[name].text for name in columns] if row.is_mapping else list(row.value)
        for row in node.items()
    ]


def _row_of(node: Node, field: str) -> Node:
    """The row that a refusal is about: `drops[2]` is the third."""
    number = field.partition("[")[2].rstrip("]")
    return node[int(number)] if number.isdecimal() else node
