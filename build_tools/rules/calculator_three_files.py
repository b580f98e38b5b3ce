"""A calculator is three files with one stem: its formula, its words and its table of proof."""

from collections.abc import Iterator

from build_tools.problems import Problem
from build_tools.project import Project, stem_of
from build_tools.rules import Rule

PLACES = {
    "formula": "calcs/calculators/{}.py",
    "words": "content/calculators/{}.yaml",
    "table of proof": "tests/tables/{}.yaml",
}


def check(project: Project) -> Iterator[Problem]:
    """Where one of the three is there, the other two must be."""
    files = {*project.documents, *project.python, *project.other}
    folders = tuple(place.split("{}")[0] for place in PLACES.values())
    stems = {stem_of(file) for file in files if file.startswith(folders)} - {"__init__"}
    for stem in sorted(stems):
        places = {what: place.format(stem) for what, place in PLACES.items()}
        there = next(place for place in places.values() if place in files)
        for what, place in places.items():
            if place not in files:
                found = f"The calculator '{stem}' has no {what}."
                expected = "It is three files with one stem."
                yield Problem(there, 1, 1, "", found, expected, f"write {place}")


RULE = Rule("calculator-three-files", "A calculator is formula, words and table of proof.", check)
