"""A figure is used only where its unit fits: a timer runs for a time, an input takes its kind."""

from collections.abc import Iterator

from build_tools.sources.naming import measured
from build_tools.sources.node import Node
from build_tools.sources.parse_value import measure_of
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.python_text import matching

TIME = "s"


def check(project: Project) -> Iterator[Problem]:
    """Look at the timers of steps, and at what calculators take where nothing is typed."""
    figures = {node.key: node for node in project.each(("limits", "gases"), ...)}
    for timer in project.each("procedure", "steps", ..., "timer"):
        for name in timer.texts():
            figure = figures.get(name.text)
            if figure and _declared(figure).text and _measure(figure) != measure_of(TIME):
                declared = _declared(figure).text
                found = f"A timer runs for a time, and '{name.text}' is declared as '{declared}'."
                yield name.problem(found, "", "name a figure whose unit is a time")
    for figure in project.each(("limits", "gases"), ...):
        yield from _default(figure, project)
        stated = figure["stated_in"]
        own = measured(project, stated.text)
        if own is not None and own != measured(project, figure.key):
            found = f"'{stated.text}' measures something else than '{figure.key}'."
            yield stated.problem(found, "", "name a reading of the figure's own kind, or delete it")


def _default(figure: Node, project: Project) -> Iterator[Problem]:
    own = _declared(figure)
    for calculator, spec in project.calculators.items():
        for pattern, unit in spec.defaults.items():
            fits = figure.key == pattern or matching(pattern).fullmatch(figure.key)
            if fits and own.text and _measure(figure) != measure_of(unit):
                takes = f"{calculator} takes it for a '{unit or 1}'"
                fix = "declare a unit of that kind, or name another figure there"
                yield own.problem(f"It is declared as '{own.text}', and {takes}.", "", fix)


def _declared(figure: Node) -> Node:
    return figure["unit"] if figure["unit"].value else figure["kind"]


def _measure(figure: Node) -> object:
    """What a figure measures: nothing that has a unit, where it declares a kind."""
    return measure_of(figure["unit"].text)
