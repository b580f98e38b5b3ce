"""A calculator is three files with one stem: its formula, its words and its table of proof."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem, slip_of
from build_tools.sources.project import Project, stem_of

PLACES = {
    "formula": "calcs/calculators/{}.py",
    "words": "content/calculators/{}.yaml",
    "table of proof": "tests/tables/{}.yaml",
}
EXPECTED = "It is three files with one stem."


def check(project: Project) -> Iterator[Problem]:
    """Where one of the three is there, whatever is in it, the other two must be."""
    files = {*project.documents, *project.python_files}
    folders = tuple(place.split("{}")[0] for place in PLACES.values())
    stems = {stem_of(file) for file in files if file.startswith(folders)} - {"__init__"}
    there = {
        stem: {w for w, place in PLACES.items() if place.format(stem) in files} for stem in stems
    }
    parts = {stem: own for stem, own in there.items() if len(own) < len(PLACES)}
    for stem, own in sorted(parts.items()):
        rest = set(PLACES) - own
        other = slip_of(stem, [each for each, its in parts.items() if its == rest])
        if other and len(own) == 1:
            yield _misnamed(stem, other, *own)
        elif not other:
            yield from _missing(stem, own)


def _misnamed(stem: str, other: str, what: str) -> Problem:
    """One file whose name misses that of the other two."""
    found = f"The calculator '{other}' has no {what}, and '{stem}' has nothing but that."
    fix = f"rename this file to {PLACES[what].format(other)}"
    return Problem(PLACES[what].format(stem), 1, 1, "", found, EXPECTED, fix)


def _missing(stem: str, own: set[str]) -> Iterator[Problem]:
    first = next(place.format(stem) for what, place in PLACES.items() if what in own)
    for what, place in PLACES.items():
        if what not in own:
            found = f"The calculator '{stem}' has no {what}."
            yield Problem(first, 1, 1, "", found, EXPECTED, f"write {place.format(stem)}")
