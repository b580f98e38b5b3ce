"""A figure that a page shows has a value in force on the day of the build."""

from collections.abc import Iterator

from build_tools.sources.days import in_force
from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.rules.placeholder_known import PLACEHOLDER

FIX = "add a value that holds today, or stop showing the figure"


def check(project: Project) -> Iterator[Problem]:
    """Look at what steps expect, what sections list, and at what stands in braces."""
    for node, name in _shown(project):
        values = project.figures.get(name, {}).get("values")
        dated = [each for each in values if _is_dated(each)] if isinstance(values, list) else []
        if dated and in_force(dated, project.day) is None:
            found = f"'{name}' has nothing in force on {project.day.isoformat()}."
            spans = [f"{each['from']} to {each.get('until', 'now')}" for each in dated]
            yield node.problem(found, f"It has: {', '.join(spans)}.", FIX)


def _shown(project: Project) -> Iterator[tuple[Node, str]]:
    for node in project.named("figure"):
        yield node, node.text
    for node in project.words:
        for name in PLACEHOLDER.findall(node.text):
            yield node, name


def _is_dated(value: object) -> bool:
    if not isinstance(value, dict) or not isinstance(value.get("from"), str):
        return False
    return isinstance(value.get("until", ""), str)
