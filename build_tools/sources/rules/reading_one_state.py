"""A reading has one meaning: whatever step takes it, the appliance stands in one state.

A pressure read under another load, written into the same place, turns "does not meet" into "meets".
"""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from build_tools.sources.problems import Problem, listing
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document, KeyPath
from build_tools.sources.rule import Rule

ANY = "any"
RECORDED = "as_recorded"
EXPECTED = "The state is part of what a reading means: data/visit_record.yaml says it."


class Taken(NamedTuple):
    """A reading in a step."""

    document: Document
    key_path: KeyPath
    name: str
    state: str | None

    @property
    def where(self) -> str:
        """The step, for an author who looks for the other one."""
        return f"{self.document.file}, steps[{int(self.key_path[1]) + 1}]"


def check(project: Project) -> Iterator[Problem]:
    """Hold the state of each step against that of each reading it takes."""
    known = project.one("visit_record")
    steps: dict[str, list[Taken]] = defaultdict(list)
    for taken in _taken(project):
        if taken.name in known:
            steps[taken.name].append(taken)
    for name, takers in steps.items():
        entry = known[name]
        own = entry.get("state") if isinstance(entry, dict) else None
        measured = [each for each in takers if each.state != RECORDED]
        yield from _unsaid(name, measured) if own is None else _other(name, own, measured)
        if not measured:
            found = f"No step takes '{name}', and this one only lays it beside others."
            fix = "write the state of this step, or add the step that takes the reading"
            yield takers[0].document.problem(takers[0].key_path, found, EXPECTED, fix)


def _unsaid(name: str, measured: list[Taken]) -> Iterator[Problem]:
    """A reading without a state may be taken by one step only."""
    for taken in measured[1:]:
        found = f"'{name}' is taken here and in {measured[0].where}, and has no state."
        fix = (
            f"give it a state in data/visit_record.yaml and in both steps, "
            f"'{ANY}' if the appliance makes no difference, or make two readings of it"
        )
        yield taken.document.problem(taken.key_path, found, EXPECTED, fix)


def _other(name: str, own: str, measured: list[Taken]) -> Iterator[Problem]:
    """A reading with a state is taken in that state alone."""
    for taken in measured if own != ANY else ():
        if taken.state != own:
            stands = f"is in the state '{taken.state}'" if taken.state else "says no state"
            found = f"This step {stands}, and '{name}' is a reading of '{own}'."
            others = [each.where for each in measured if each.state == own]
            expected = f"{EXPECTED} It is taken in {listing(others)}." if others else EXPECTED
            fix = f"write 'state: {own}' if that is so, or take another reading here"
            yield taken.document.problem(taken.key_path, found, expected, fix)


def _taken(project: Project) -> Iterator[Taken]:
    for document in project.of_kind("procedure"):
        steps = document.value.get("steps")
        for key_path, text in document.texts():
            if key_path[0] == "steps" and len(key_path) > 2 and key_path[2] == "reading":
                step = steps[key_path[1]]
                state = step.get("state")
                yield Taken(document, key_path, text, state if isinstance(state, str) else None)


RULE = Rule("reading-one-state", "A reading is taken in one state of the appliance.", check)
