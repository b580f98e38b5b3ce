"""A reading has a range: that of the calculator's input that takes it, or one of its own."""

from collections import defaultdict
from collections.abc import Iterator

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.reading_ranges import takers

EXPECTED = "What is typed is held against a range: 1140 for 11.40 must not pass for a reading."
ENDS = ("low", "high")


def check(project: Project) -> Iterator[Problem]:
    """See that each reading has one range, from one place."""
    taken: dict[str, list[str]] = defaultdict(list)
    for reading, calculator, name in takers(project):
        taken[reading].append(f"{calculator}.{name}")
    for reading in project.each("visit_record", ...):
        # A page that can't be read may have the input that takes it. What is chosen has no range.
        if (
            not project.may_hold(reading.key, "calculator", "procedure")
            and "options" not in reading
        ):
            yield from _faults(reading, taken[reading.key])


def _faults(reading: Node, takes: list[str]) -> Iterator[Problem]:
    own = [end for end in ENDS if end in reading]
    low, high = (reading[end] for end in ENDS)
    if takes and own:
        found = f"'{reading.key}' has the range of the input {takes[0]}, and says one of its own."
        yield reading[own[0]].problem(found, EXPECTED, f"delete {' and '.join(own)}")
    elif not takes and len(own) < len(ENDS):
        found = f"No calculator takes '{reading.key}', and it says no range."
        yield reading.problem(found, EXPECTED, "add low and high, in its unit")
    elif own and not _in_order(low.text, high.text):
        found = f"'{low.value}' to '{high.value}' is no range."
        yield low.problem(found, EXPECTED, "write two numbers, the smaller one first")


def _in_order(low: str, high: str) -> bool:
    try:
        return float(low) < float(high)
    except ValueError:
        return False
