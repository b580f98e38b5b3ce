"""Every figure that a step, a section or a formula names is there."""

import ast
from collections.abc import Iterator
from functools import partial

from build_tools.sources.naming import FIGURE, At, adding, measured_beside, missing, names_of
from build_tools.sources.parse_value import measure_of
from build_tools.sources.problems import Problem, nearest
from build_tools.sources.project import Project
from build_tools.sources.python_text import Nodes, calls, figure_names, matching, nodes_of

TIME = "s"


def check(project: Project) -> Iterator[Problem]:
    """Look up each name in the procedures, the reference pages and the formulas."""
    for node in project.named("figure"):
        is_timer = "timer" in node.key_path[:3]
        wanted = measure_of(TIME) if is_timer else measured_beside(project, node, "reading")
        yield from missing(project, FIGURE, node.text, node.problem, wanted)
    known = [*names_of(project, FIGURE), *project.stems("table")]
    for file, text in project.python.items():
        nodes = nodes_of(text) if file.startswith("calcs/calculators/") else None
        if nodes:
            yield from _in_formula(file, nodes, known, project)


def _in_formula(file: str, nodes: Nodes, known: list[str], project: Project) -> Iterator[Problem]:
    units = dict(_defaults(nodes))
    for found in figure_names(nodes):
        pattern = matching(found.text)
        if found.text in known or any(map(pattern.fullmatch, known)):
            continue
        if project.may_match(pattern, *FIGURE.files):
            continue
        at = partial(Problem, file, found.line, found.column, "")
        if "*" in found.text:
            yield _no_such_pattern(found.text, project, at)
        else:
            unit = units.get((found.line, found.column))
            wanted = None if unit is None else measure_of(unit)
            yield from missing(project, FIGURE, found.text, at, wanted)


def _no_such_pattern(pattern: str, project: Project, at: At) -> Problem:
    close = nearest(pattern, names_of(project, FIGURE))
    fix = f"write it so that it fits, as '{close}' is written" if close else adding(FIGURE, pattern)
    return at(f"No figure has a name like '{pattern}'.", FIGURE.expected, fix)


def _defaults(nodes: Nodes) -> Iterator[tuple[tuple[int, int], str]]:
    """The place of each `default` of an input, and the unit of that input."""
    for call in calls(nodes, "Input"):
        unit = call.args[1] if len(call.args) > 1 else None
        for keyword in call.keywords:
            if keyword.arg == "default" and isinstance(unit, ast.Constant):
                place = keyword.value
                yield (place.lineno, place.col_offset + 1), str(unit.value)
