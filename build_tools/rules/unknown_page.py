"""Every page, section, calculator, diagram, table and instrument that a page names is there."""

from collections.abc import Iterator
from typing import NamedTuple

from build_tools.problems import Problem, nearest
from build_tools.project import Project, stem_of
from build_tools.read_yaml import Document, Way
from build_tools.rules import Rule

PAGES = {
    "procedure": "procedures",
    "calculator": "calculators",
    "reference": "reference",
    "record": "record",
}


class Naming(NamedTuple):
    """A name in a page, and what it must be one of."""

    way: Way
    name: str
    what: str
    known: set[str]


def check(project: Project) -> Iterator[Problem]:
    """Look up each name."""
    pages = {
        f"{folder}/{stem_of(document.file)}"
        for kind, folder in PAGES.items()
        for document in project.of_kind(kind)
    }
    diagrams = {stem_of(document.file) for document in project.of_kind("diagram")}
    for document in project.of_kind(*PAGES, "home", "nav"):
        for each in _named(document, project, pages, diagrams):
            if each.name not in each.known:
                found = f"There is no {each.what} '{each.name}'."
                close = nearest(each.name, each.known)
                fix = (
                    f"rename it to '{close}'" if close else f"write that {each.what}, or delete it"
                )
                yield document.problem(each.way, found, "", fix)


def _named(
    document: Document, project: Project, pages: set[str], diagrams: set[str]
) -> Iterator[Naming]:
    stems = {page.split("/")[1] for page in pages}
    for way, text in document.texts():
        in_step = way[0] == "steps" and len(way) > 2
        part = way[2] if way[0] == "sections" and len(way) > 2 else None
        if way == ("group",):
            yield Naming(way, text, "section", _sections(project))
        elif way[0] == "related":
            yield Naming(way, text, "page", stems)
        elif way[0] in {"tasks", "checks"} and way[-1] == "page":
            yield Naming(way, text, "page", pages)
        elif in_step and way[2] == "calculator":
            calculators = {page[12:] for page in pages if page.startswith("calculators/")}
            yield Naming(way, text, "calculator", calculators)
        elif part == "diagram" or (in_step and way[2:] in {("diagram",), ("diagram", "id")}):
            yield Naming(way, text, "diagram", diagrams)
        elif part == "order":
            section = document.value["sections"][way[1]]
            yield Naming(way, text, "page of this section", _stems_in(project, section))
        elif part == "tables":
            yield Naming(way, text, "table", set(project.tables))
        elif part == "instruments" or (way[0] == "instruments" and way[-1] == "id"):
            yield Naming(way, text, "instrument", set(project.one("instruments")))


def _stems_in(project: Project, section: dict[str, str]) -> set[str]:
    kinds = [kind for kind, folder in PAGES.items() if folder == section.get("kind")]
    return {
        stem_of(document.file)
        for document in project.of_kind(*kinds)
        if document.value.get("group") == section.get("id")
    }


def _sections(project: Project) -> set[str]:
    sections = project.one("nav").get("sections")
    listed = sections if isinstance(sections, list) else []
    return {str(each.get("id")) for each in listed if isinstance(each, dict)}


RULE = Rule("unknown-page", "Every page or part of one that is named is there.", check)
