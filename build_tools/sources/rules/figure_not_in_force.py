"""A figure that a page shows has a value in force on the day of the build."""

from collections.abc import Iterator

from build_tools.sources.days import in_force
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document, KeyPath, get_path
from build_tools.sources.rule import Rule
from build_tools.sources.rules.placeholder_known import PLACEHOLDER
from build_tools.sources.rules.unknown_figure import named_in_page

FIX = "add a value that holds today, or stop showing the figure"


def check(project: Project) -> Iterator[Problem]:
    """Look at what steps expect and at what stands in braces."""
    for document, key_path, name in _shown(project):
        values = get_path(project.figures, name, "values")
        dated = [each for each in values or () if isinstance(get_path(each, "from"), str)]
        dated = [each for each in dated if isinstance(each.get("until", ""), str)]
        if dated and in_force(dated, project.day) is None:
            found = f"'{name}' has nothing in force on {project.day.isoformat()}."
            yield document.problem(key_path, found, _spans(dated), FIX)


def _shown(project: Project) -> Iterator[tuple[Document, KeyPath, str]]:
    for document in project.of_kind("procedure", "reference"):
        for key_path, name in named_in_page(document):
            yield document, key_path, name
    for document, key_path, text in project.texts():
        for name in PLACEHOLDER.findall(text):
            yield document, key_path, name


def _spans(values: list[dict[str, str]]) -> str:
    spans = [f"{each['from']} to {each.get('until', 'now')}" for each in values]
    return f"It has: {', '.join(spans)}."


RULE = Rule("figure-not-in-force", "A figure that a page shows is in force today.", check)
