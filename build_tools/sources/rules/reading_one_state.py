"""A reading has one meaning: whatever step takes it, the appliance stands in one state.

A pressure read under another load, written into the same place, turns "does not meet" into "meets".
"""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem, listing
from build_tools.sources.project import Project

ANY = "any"
RECORDED = "as_recorded"
EXPECTED = "The state is part of what a reading means: data/visit_record.yaml says it."


class Taken(NamedTuple):
    """A reading in a step."""

    node: Node
    state: str  # empty where the step says none

    @property
    def where(self) -> str:
        """The step, for an author who looks for the other one."""
        return f"{self.node.document.file}, steps[{int(self.node.key_path[1]) + 1}]"


def check(project: Project) -> Iterator[Problem]:
    """Hold the state of each step against that of each reading it takes."""
    steps: dict[str, list[Taken]] = defaultdict(list)
    for step in project.each("procedure", "steps", ...):
        for node in step["reading"].texts():
            steps[node.text].append(Taken(node, step["state"].text))
    for reading in project.each("visit_record", ...):
        takers, own = steps.get(reading.key, []), reading["state"].text
        measured = [each for each in takers if each.state != RECORDED]
        yield from _other(reading.key, own, measured) if own else _unsaid(reading.key, measured)
        if takers and not measured:
            found = f"No step takes '{reading.key}', and this one only lays it beside others."
            fix = "write the state of this step, or add the step that takes the reading"
            yield takers[0].node.problem(found, EXPECTED, fix)


def _unsaid(name: str, measured: list[Taken]) -> Iterator[Problem]:
    """A reading without a state may be taken by one step only."""
    for taken in measured[1:]:
        found = f"'{name}' is taken here and in {measured[0].where}, and has no state."
        fix = (
            f"give it a state in data/visit_record.yaml and in both steps, "
            f"'{ANY}' if the appliance makes no difference, or make two readings of it"
        )
        yield taken.node.problem(found, EXPECTED, fix)


def _other(name: str, own: str, measured: list[Taken]) -> Iterator[Problem]:
    """A reading with a state is taken in that state alone."""
    for taken in measured if own != ANY else ():
        if taken.state != own:
            stands = f"is in the state '{taken.state}'" if taken.state else "says no state"
            found = f"This step {stands}, and '{name}' is a reading of '{own}'."
            others = [each.where for each in measured if each.state == own]
            expected = f"{EXPECTED} It is taken in {listing(others)}." if others else EXPECTED
            fix = f"write 'state: {own}' if that is so, or take another reading here"
            yield taken.node.problem(found, expected, fix)
