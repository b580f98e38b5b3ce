"""Every figure that a step, a diagram or a formula names is there."""

import ast
from collections.abc import Iterator
from functools import partial
from typing import Any

from build_tools.sources.naming import FIGURE, At, adding, declared, measured, missing
from build_tools.sources.parse_value import measure_of
from build_tools.sources.problems import Problem, nearest
from build_tools.sources.project import Project
from build_tools.sources.python_text import calls, figure_names, matching, nodes_of
from build_tools.sources.read_yaml import Document, KeyPath, get_path
from build_tools.sources.rule import Rule

TIME = "s"


def check(project: Project) -> Iterator[Problem]:
    """Look up each name in the procedures, the reference pages and the formulas."""
    for document in project.of_kind("procedure", "reference"):
        for key_path, name in named_in_page(document):
            wanted = _wanted(document, key_path, project)
            yield from missing(project, FIGURE, name, partial(document.problem, key_path), wanted)
    known = [*declared(project, FIGURE), *project.stems("table")]
    for file, text in project.python.items():
        nodes = nodes_of(text) if file.startswith("calcs/calculators/") else None
        units = dict(_defaults(nodes)) if nodes else {}
        for found in figure_names(nodes) if nodes else ():
            pattern = matching(found.text)
            if any(found.text == name or pattern.fullmatch(name) for name in known):
                continue
            if not project.may_match(pattern, *FIGURE.files):
                at = partial(Problem, file, found.line, found.column, "")
                unit = units.get((found.line, found.column))
                wanted = None if unit is None else measure_of(unit)
                if "*" in found.text:
                    yield _no_such_pattern(found.text, project, at)
                else:
                    yield from missing(project, FIGURE, found.text, at, wanted)


def _no_such_pattern(pattern: str, project: Project, at: At) -> Problem:
    close = nearest(pattern, declared(project, FIGURE))
    fix = f"write it so that it fits, as '{close}' is written" if close else adding(FIGURE, pattern)
    return at(f"No figure has a name like '{pattern}'.", FIGURE.expected, fix)


def _wanted(document: Document, key_path: KeyPath, project: Project) -> Any:
    """What the figure must measure: a timer's is a time, and a reading is held against its like."""
    if key_path[0] != "steps" or len(key_path) < 3:
        return None
    if key_path[2] == "timer":
        return measure_of(TIME)
    reading = get_path(document.value, *key_path[:2], "reading")
    names = [reading] if isinstance(reading, str) else reading
    kinds = {measured(project, str(each)) for each in names} if isinstance(names, list) else set()
    return kinds.pop() if len(kinds) == 1 else None


def _defaults(nodes: tuple[ast.AST, ...]) -> Iterator[tuple[tuple[int, int], str]]:
    """The place of each `default` of an input, and the unit of that input."""
    for call in calls(nodes, "Input"):
        unit = call.args[1] if len(call.args) > 1 else None
        for keyword in call.keywords:
            if keyword.arg == "default" and isinstance(unit, ast.Constant):
                place = keyword.value
                yield (place.lineno, place.col_offset + 1), str(unit.value)


def named_in_page(document: Document) -> Iterator[tuple[KeyPath, str]]:
    """Figures that the steps of a procedure expect or time by, and those that a section lists."""
    for key_path, text in document.texts():
        in_step = (
            key_path[0] == "steps" and len(key_path) > 2 and key_path[2] in {"expect", "timer"}
        )
        in_section = key_path[0] == "sections" and len(key_path) > 2 and key_path[2] == "limits"
        if in_step or in_section:
            yield key_path, text


RULE = Rule("unknown-figure", "Every figure that is named is there.", check)
