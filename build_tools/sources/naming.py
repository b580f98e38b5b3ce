"""What an author is told who names something that isn't there.

A name stands in two places: where it is declared, and where it is used. Which of them has the slip
shows in the other files: what is named all over the project is right, and what no other file names
is not. A name that a file which can't be read may hold counts as there.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from build_tools.sources.node import Node
from build_tools.sources.parse_value import NO_UNIT, WORD, measure_of
from build_tools.sources.problems import Problem, listing, nearest, slip_of
from build_tools.sources.project import Project, kind_of
from build_tools.sources.read_yaml import KeyPath

At = Callable[[str, str, str], Problem]  # a problem at the place that uses the name
CHOSEN = "one of a few words"
FEWEST = 2  # files that use a name before its declaration is suspected


@dataclass(frozen=True)
class Kind:
    """What the keys of some files are the names of."""

    what: str
    files: tuple[str, ...]  # kinds of file
    expected: str
    under: KeyPath = ()
    has_unit: bool = False


FIGURE = Kind(
    "figure", ("limits", "gases"), "Figures stand in data/limits/ and data/gases.yaml.",
    has_unit=True,
)  # fmt: skip
READING = Kind(
    "reading", ("visit_record",), "Readings stand in data/visit_record.yaml.", has_unit=True
)
VISITED = Kind(
    "reading",
    ("scenario",),
    "A value is the name of a reading in data/scenario/, or =word for a choice.",
    under=("readings",),
    has_unit=True,
)
SOURCE = Kind("source", ("sources", "host_sources"), "Sources stand in data/sources.yaml.")
INSTRUMENT = Kind("instrument", ("instruments",), "Instruments stand in data/instruments.yaml.")


# What a host is told, who adds nothing to data/.
OF_HOST = {
    FIGURE.what: "name a figure of the handbook; a limit of your own goes under limits/ of your "
    "overlay, and stands beside the handbook's",
    READING.what: "name a reading of the handbook",
    SOURCE.what: "add '{}' to sources.yaml of your overlay",
    INSTRUMENT.what: "name an instrument of the handbook, or say it in words",
}


@lru_cache(maxsize=64)
def names_of(project: Project, kind: Kind) -> dict[str, Node]:
    """Every name of a kind, with the place of its declaration, whatever stands under it."""
    found: dict[str, Node] = {}
    for holder in project.each(kind.files, *kind.under):
        for name in holder.names:
            found.setdefault(name, holder[name])
    return found


def missing(
    project: Project, kind: Kind, name: str, at: At, measure: Any = None
) -> Iterator[Problem]:
    """A problem where a name is none of its kind: here, or where it was declared wrongly.

    Args:
        project: All files.
        kind: What the name should be one of.
        name: The name. An empty one is left to the shape.
        at: Makes a problem at the place that uses the name.
        measure: What a figure there must measure, where that is known.
    """
    known = names_of(project, kind)
    if not name or name in known or project.may_hold(name, *kind.files):
        return
    fitting = [each for each in known if _fits(project, each, kind, measure)]
    if wrong := _declared_wrongly(project, name, fitting):
        yield _at_declaration(project, name, wrong, known[wrong])
        return
    # The nearest figure may be another one, with a unit of its own: only a slip of typing counts.
    close = (slip_of if kind.has_unit else nearest)(name, fitting)
    found = at(
        f"There is no {kind.what} '{name}'.", kind.expected, _fix(project, kind, name, close)
    )
    is_hosts = not close and any(e.at and e.file == found.file for e in project.documents.values())
    yield replace(found, fix=OF_HOST[kind.what].format(name)) if is_hosts else found


def _fix(project: Project, kind: Kind, name: str, close: str | None) -> str:
    if close:
        unit = unit_of(project, close) if kind.has_unit else ""
        return f"rename it to '{close}'" + (f" ({unit})" if unit else "")
    if kind is VISITED and name in names_of(project, READING):
        return f"add '{name}' to data/scenario/visit.yaml"
    if kind is READING and name in names_of(project, VISITED):
        return f"add '{name}' to data/visit_record.yaml"
    return adding(kind, name)


def adding(kind: Kind, name: str) -> str:
    """Which files a new name of a kind has to be added to."""
    if kind.files == FIGURE.files:
        subject = name.partition(".")[0]
        file = "data/gases.yaml" if subject == "gas" else f"data/limits/{subject}.yaml"
        return f"add '{name}' to {file}, and its source to data/sources.yaml"
    if kind.files in {READING.files, VISITED.files}:
        return f"add '{name}' to data/visit_record.yaml and data/scenario/visit.yaml"
    return f"add '{name}' to data/{kind.files[0]}.yaml"


def unit_of(project: Project, name: str) -> str:
    """Unit or kind of a figure, unit of a reading; empty where there is none."""
    holder = project.figures.get(name) or project.one("visit_record").get(name)
    unit = (holder.get("unit") or holder.get("kind")) if isinstance(holder, dict) else None
    return unit if isinstance(unit, str) else ""


def measured(project: Project, name: str) -> Any:
    """What a figure or a reading measures; nothing where that can't be said."""
    holder = project.figures.get(name) or project.one("visit_record").get(name)
    if not isinstance(holder, dict):
        return None
    unit, kind = holder.get("unit"), holder.get("kind")
    if "options" in holder or kind == WORD:
        return CHOSEN
    if not isinstance(unit, str):
        return NO_UNIT if isinstance(kind, str) else None
    return measure_of(unit) if unit else NO_UNIT


def measured_beside(project: Project, node: Node, key: str) -> Any:
    """What the figures or readings under a key of the same step measure, if all measure one thing.

    A reading is held against its like.
    """
    if node.key_path[0] != "steps":
        return None
    step = node.whole["steps"][node.key_path[1]]
    kinds = {measured(project, each.text) for each in step[key].texts()}
    return kinds.pop() if len(kinds) == 1 else None


def _fits(project: Project, name: str, kind: Kind, measure: Any) -> bool:
    if not kind.has_unit or measure is None:
        return True
    return measured(project, name) in {None, measure}


def _declared_wrongly(project: Project, name: str, fitting: list[str]) -> str | None:
    """A declared name that nothing else names, and that misses this one by a slip of typing."""
    users = project.files_with(name)
    if len(users) < FEWEST:
        return None
    unused = [each for each in fitting if len(project.files_with(each)) == 1]
    return slip_of(name, unused)


def _at_declaration(project: Project, name: str, wrong: str, place: Node) -> Problem:
    users = [file for file in project.files_with(name) if file != place.document.file]
    found = f"No other file names '{wrong}'. '{name}', which is not here, is named in "
    found += f"{listing(users, 3)}."
    return place.problem(found, "", f"rename it to '{name}'", key=True)


def misnamed(project: Project, name: str, kind: str) -> Problem | None:
    """A file of a kind that nothing names, whose stem misses a name that is used by a slip."""
    if len(project.files_with(name)) < FEWEST:
        return None
    wrong = slip_of(name, [each for each in project.stems(kind) if not project.files_with(each)])
    if wrong is None:
        return None
    file = next(
        file for file in project.documents
        if kind_of(file) == kind and file.endswith(f"/{wrong}.yaml")
    )  # fmt: skip
    found = f"No file names '{wrong}'. '{name}', which is not there, is named in "
    found += f"{listing(project.files_with(name), 3)}."
    return Problem(file, 1, 1, "", found, "", f"rename this file to {name}.yaml")
