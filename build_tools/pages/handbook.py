"""Words and numbers in, pages out. MkDocs is not needed to make them, only to bind them."""

from dataclasses import dataclass, replace
from typing import Any

from build_tools.pages import calculator, glossary, home, procedure, readings, record, reference
from build_tools.pages.autolink import procedures_linked
from build_tools.pages.content_node import Part
from build_tools.pages.navigation import Group, groups, section_title
from build_tools.pages.page_context import Shelf
from build_tools.pages.render import render
from build_tools.sources.problems import ProblemsFound
from build_tools.sources.project import Project, stem_of
from build_tools.sources.read_yaml import Document

FOLDERS = {
    "procedure": "procedures",
    "calculator": "calculators",
    "reference": "reference",
    "record": "record",
}


@dataclass(frozen=True)
class Page:
    """One page: its address in the site, and the HTML of its body."""

    path: str
    kind: str
    title: str
    summary: str
    html: str

    @property
    def source(self) -> str:
        """Name of the file that MkDocs is told the page comes from."""
        return self.path.removesuffix(".html") + ".md"


@dataclass(frozen=True)
class Handbook:
    """All pages, and their order."""

    pages: list[Page]
    groups: list[Group]
    bundle: dict[str, Any]  # the figures and words that they were made from
    synonyms: dict[str, list[str]]  # a word of the trade to what others say for it
    reading_facts: dict[str, Any]  # what a page's script checks each reading by


Draft = tuple[str, Part, dict[str, Any]]  # the kind of a page, its file, and what it shows


def drafts(project: Project, shelf: Shelf) -> tuple[list[Draft], list[Group]]:
    """What each page of the project shows, and the order of the pages.

    Raises:
        ProblemsFound: A file names something that isn't there; all such places at once.
    """
    parts = {_path(document): document for document in project.of_kind(*FOLDERS)}
    shelf.pages = {
        path.removesuffix(".html"): str(document.value["title"]) for path, document in parts.items()
    }
    opened = [Part(document, shelf, path) for path, document in sorted(parts.items())]
    sections = groups(project.one("nav"), opened)
    front = [Part(each, shelf, "index.html") for each in project.of_kind("home")]
    made: list[Draft] = [("home", each, home.context(each, sections)) for each in front]
    made += [(str(each["kind"].value), each, _context(each, opened)) for each in opened]
    if shelf.problems:
        raise ProblemsFound(shelf.problems)
    return made, sections


def make(project: Project, shelf: Shelf) -> Handbook:
    """Every page of the project.

    Raises:
        ProblemsFound: A file names something that isn't there; all such places at once.
    """
    drafted, sections = drafts(project, shelf)
    nav = project.one("nav")
    opened = [part for kind, part, _ in drafted if kind != "home"]
    pages = [_page(kind, part, values, nav) for kind, part, values in drafted]
    pages = [
        _with_links(page, part, opened) for page, (_, part, _) in zip(pages, drafted, strict=True)
    ]
    synonyms = project.one("words").get("synonyms", {})
    return Handbook(pages, sections, shelf.bundle, synonyms, readings.facts(shelf))


def _with_links(page: Page, part: Part, opened: list[Part]) -> Page:
    """The page with the procedures that it names linked, and its first use of each term."""
    if page.kind == "home":
        return page
    others = [each for each in opened if each.path != page.path]
    procedures = {
        stem_of(each.document.file): part.link(each.path)
        for each in others
        if each["kind"].value == "procedure"
    }
    html = procedures_linked(page.html, procedures)
    for each in others:
        if each["terms"].value:
            html = glossary.linked(html, each["terms"].value, part.link(each.path))
    return replace(page, html=html)


def _path(document: Document) -> str:
    return f"{FOLDERS[document.value['kind']]}/{stem_of(document.file)}.html"


def _context(part: Part, opened: list[Part]) -> dict[str, Any]:
    stem = stem_of(part.document.file)
    kind = part["kind"].value
    if kind == "procedure":
        return procedure.context(part, stem)
    if kind == "record":
        return record.context(part, opened)
    return calculator.context(part, stem) if kind == "calculator" else reference.context(part)


def _page(kind: str, part: Part, values: dict[str, Any], nav: dict[str, Any]) -> Page:
    # The first page has the name of the whole, which its host sets.
    title = part.shelf.site_name if kind == "home" else str(part["title"].value)
    summary = str(part["summary"].value or "")
    section = section_title(nav, part)
    shared = {
        "page": {"title": title, "summary": summary, "section": section},
        "contact": part.shelf.emergency_contact,
        "provenances": part.shelf.provenances,
        "links": {
            "sources": part.link("reference/sources.html"),
            "provenances": part.link("reference/standings.html"),
        },
    }
    return Page(part.path, kind, title, summary, render(kind, {**values, **shared}))
