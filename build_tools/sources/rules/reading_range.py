"""A reading has a range: that of the calculator's input that takes it, or one of its own."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.reading_ranges import takers
from build_tools.sources.rule import Rule

EXPECTED = "What is typed is held against a range: 1140 for 11.40 must not pass for a reading."
ENDS = ("low", "high")


def check(project: Project) -> Iterator[Problem]:
    """See that each reading has one range, from one place."""
    taken: dict[str, list[str]] = {}
    for reading, calculator, name in takers(project):
        taken.setdefault(reading, []).append(f"{calculator}.{name}")
    for document in project.of_kind("visit_record"):
        for name, entry in document.value.items():
            if isinstance(entry, dict) and "options" not in entry:
                # A page that can't be read may have the input that takes it.
                if project.may_hold(name, "calculator", "procedure"):
                    continue
                for key_path, found, fix in _faults(name, entry, taken.get(name, [])):
                    yield document.problem(key_path, found, EXPECTED, fix)


def _faults(
    name: str, entry: dict[str, object], takes: list[str]
) -> Iterator[tuple[tuple[str, ...], str, str]]:
    own = [end for end in ENDS if end in entry]
    if takes and own:
        found = f"'{name}' has the range of the input {takes[0]}, and says one of its own."
        yield (name, own[0]), found, f"delete {' and '.join(own)}"
    elif not takes and len(own) < len(ENDS):
        found = f"No calculator takes '{name}', and it says no range."
        yield (name,), found, "add low and high, in its unit"
    elif own and not _in_order(entry):
        found = f"'{entry['low']}' to '{entry['high']}' is no range."
        yield (name, "low"), found, "write two numbers, the smaller one first"


def _in_order(entry: dict[str, object]) -> bool:
    try:
        return float(str(entry["low"])) < float(str(entry["high"]))
    except ValueError:
        return False


RULE = Rule("reading-range", "A reading has one range for what is typed.", check)
