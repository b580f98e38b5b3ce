"""Every page, section, calculator, diagram, table and instrument that a page names is there."""

from collections.abc import Iterator
from typing import NamedTuple

from build_tools.sources.naming import INSTRUMENT, misnamed
from build_tools.sources.problems import Problem, listing, nearest, slip_of
from build_tools.sources.project import Project, stem_of
from build_tools.sources.read_yaml import Document, KeyPath
from build_tools.sources.rule import Rule

PAGES = {
    "procedure": "procedures",
    "calculator": "calculators",
    "reference": "reference",
    "record": "record",
}
# The kinds of file whose stems are such names.
PAGE_KINDS = {
    "page": tuple(PAGES),
    "calculator": ("calculator",),
    "diagram": ("diagram",),
    "table": ("table",),
}


class Naming(NamedTuple):
    """A name in a page, what it must be one of, and the kinds of file that may hold it."""

    key_path: KeyPath
    name: str
    what: str
    known: set[str]
    kinds: tuple[str, ...] = ()


def check(project: Project) -> Iterator[Problem]:
    """Look up each name."""
    pages = {f"{folder}/{stem}" for kind, folder in PAGES.items() for stem in project.stems(kind)}
    # Where the words of a calculator are missing, another rule says so.
    pages |= {
        f"calculators/{stem_of(file)}"
        for file in project.python_files
        if file.startswith("calcs/calculators/")
    }
    for document in project.of_kind(*PAGES, "home", "nav"):
        for each in _named(document, project, pages):
            is_there = each.name in each.known or project.may_hold(each.name, *each.kinds)
            if each.name and not is_there:
                yield _problem(document, each, project)


def _problem(document: Document, each: Naming, project: Project) -> Problem:
    stem = each.name.rpartition("/")[2]
    kinds = PAGE_KINDS.get(each.what, ())
    wrong = next(filter(None, (misnamed(project, stem, kind) for kind in kinds)), None)
    if each.what == "section":
        wrong = _wrong_section(each.name, project)
    if wrong:
        return wrong
    close = nearest(each.name, each.known)
    fix = f"rename it to '{close}'" if close else f"write that {each.what}, or delete it"
    return document.problem(each.key_path, f"There is no {each.what} '{each.name}'.", "", fix)


def _named(document: Document, project: Project, pages: set[str]) -> Iterator[Naming]:
    stems = {page.split("/")[1] for page in pages}
    for key_path, text in document.texts():
        in_step = key_path[0] == "steps" and len(key_path) > 2
        part = key_path[2] if key_path[0] == "sections" and len(key_path) > 2 else None
        if key_path == ("group",):
            yield Naming(key_path, text, "section", _sections(project), ("nav",))
        elif key_path[0] == "related":
            yield Naming(key_path, text, "page", stems)
        elif (key_path[0] in {"tasks", "checks"} and key_path[-1] == "page") or key_path == (
            "stop_page",
        ):
            yield Naming(key_path, text, "page", pages)
        elif in_step and key_path[2] == "calculator":
            calculators = {page[12:] for page in pages if page.startswith("calculators/")}
            yield Naming(key_path, text, "calculator", calculators)
        elif part == "diagram" or (in_step and key_path[2:] in {("diagram",), ("diagram", "id")}):
            yield Naming(key_path, text, "diagram", project.stems("diagram"))
        elif part == "order":
            section = document.value["sections"][key_path[1]]
            known = _stems_in(project, section)
            yield Naming(key_path, text, "page of this section", known, tuple(PAGES))
        elif part == "tables":
            yield Naming(key_path, text, "table", project.stems("table"))
        elif part == "instruments" or (key_path[0] == "instruments" and key_path[-1] == "id"):
            known = set(project.one("instruments"))
            yield Naming(key_path, text, "instrument", known, INSTRUMENT.files)


def _stems_in(project: Project, section: dict[str, str]) -> set[str]:
    """The pages of a section. One that can't be read, or names no section, may be of any."""
    kinds = [kind for kind, folder in PAGES.items() if folder == section.get("kind")] or [*PAGES]
    sections = _sections(project)
    elsewhere = {
        stem_of(document.file)
        for document in project.of_kind(*kinds)
        if document.value.get("group") in sections - {section.get("id")}
    }
    return project.stems(*kinds) - elsewhere


def _sections(project: Project) -> set[str]:
    return {str(each.get("id")) for _, each in _listed_sections(project)}


def _listed_sections(project: Project) -> list[tuple[int, dict[str, str]]]:
    sections = project.one("nav").get("sections")
    listed = sections if isinstance(sections, list) else []
    return [(number, each) for number, each in enumerate(listed) if isinstance(each, dict)]


def _wrong_section(name: str, project: Project) -> Problem | None:
    """A section that no page names, whose id misses one that pages name by a slip of typing."""
    users = project.naming(name)
    places = {str(each.get("id")): number for number, each in _listed_sections(project)}
    unused = [each for each in places if len(project.naming(each)) == 1]
    wrong = slip_of(name, unused) if len(users) > 1 else None
    nav = next(project.of_kind("nav"), None)
    if wrong is None or nav is None:
        return None
    found = f"No page names the section '{wrong}'. '{name}' is named in {listing(users, 3)}."
    key_path = ("sections", places[wrong], "id")
    return nav.problem(key_path, found, "", f"rename it to '{name}'")


RULE = Rule("unknown-page", "Every page or part of one that is named is there.", check)
