"""A figure is used only where its unit fits: a timer runs for a time, an input takes its kind."""

from collections.abc import Iterator
from typing import Any

from build_tools.sources.parse_value import measure_of
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.python_text import matching
from build_tools.sources.read_yaml import Document, KeyPath
from build_tools.sources.rule import Rule

TIME = "s"


def check(project: Project) -> Iterator[Problem]:
    """Look at the timers of steps, and at what calculators take where nothing is typed."""
    for document in project.of_kind("procedure"):
        for key_path, text in document.texts():
            if key_path[0] == "steps" and len(key_path) > 2 and key_path[2] == "timer":
                yield from _timer(document, key_path, text, project.figures.get(text, {}))
    for document in project.of_kind("limits", "gases"):
        for name, figure in document.value.items():
            if isinstance(figure, dict):
                yield from _default(document, name, figure, project)


def _timer(
    document: Document, key_path: KeyPath, name: str, figure: dict[str, Any]
) -> Iterator[Problem]:
    unit = figure.get("unit") or figure.get("kind")
    if isinstance(unit, str) and _measure(figure) != measure_of(TIME):
        found = f"A timer runs for a time, and '{name}' is declared as '{unit}'."
        yield document.problem(key_path, found, "", "name a figure whose unit is a time")


def _default(
    document: Document, name: str, figure: dict[str, Any], project: Project
) -> Iterator[Problem]:
    own = figure.get("unit") or figure.get("kind")
    place = (name, "unit" if "unit" in figure else "kind")
    for calculator, declared in project.calculators.items():
        for pattern, unit in declared.defaults.items():
            fits = name == pattern or matching(pattern).fullmatch(name)
            if fits and isinstance(own, str) and _measure(figure) != measure_of(unit):
                found = f"It is declared as '{own}', and {calculator} takes it for a '{unit or 1}'."
                fix = "declare a unit of that kind, or name another figure there"
                yield document.problem(place, found, "", fix)


def _measure(figure: dict[str, Any]) -> Any:
    """What a figure measures: nothing that has a unit, where it declares a kind."""
    unit = figure.get("unit")
    return measure_of(unit if isinstance(unit, str) else "")


RULE = Rule("figure-fits", "A figure is used only where its unit fits.", check)
