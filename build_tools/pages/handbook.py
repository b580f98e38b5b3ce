"""Words and numbers in, pages out. MkDocs is not needed to make them, only to bind them."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from importlib import import_module
from typing import Any

from build_tools.pages import card, checks, glossary, home, procedure, readings, shared
from build_tools.pages.autolink import procedures_linked
from build_tools.pages.content_node import ContentNode
from build_tools.pages.navigation import Group, groups, section_title
from build_tools.pages.outcomes import codes_at
from build_tools.pages.page_context import PageContext
from build_tools.pages.render import render
from build_tools.sources.page_kinds import NAMES
from build_tools.sources.problems import ProblemsFound
from build_tools.sources.project import Project, stem_of
from build_tools.sources.read_yaml import Document


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
    stop_page: str  # where a reader is sent who smells gas
    symptoms: list[dict[str, Any]] = field(default_factory=list)  # procedure.symptoms of all pages
    questions: Mapping[str, Any] = field(default_factory=dict)  # that the page of practice asks


# Pages of links, and those whose words are linked where they come from.
UNLINKED = {"home", "revision"}

Shown = Callable[[ContentNode, Sequence[ContentNode]], dict[str, Any]]
Draft = tuple[str, ContentNode, dict[str, Any]]  # the kind of a page, its file, and what it shows


def context(node: ContentNode, opened: Sequence[ContentNode]) -> dict[str, Any]:
    """What the module of its kind shows of a page, beside all the others."""
    kind = import_module(f"build_tools.pages.{node['kind'].value}")
    values: dict[str, Any] = kind.context(node, opened)
    return values


def drafts(
    project: Project, page_context: PageContext, shown: Shown = context
) -> tuple[list[Draft], list[Group]]:
    """What each page of the project shows, and the order of the pages.

    Args:
        project: All files, which keep every rule.
        page_context: What the pages look things up from.
        shown: Gives what a page shows; a trial passes over some.

    Raises:
        ProblemsFound: A file names something that isn't there; all such places at once.
    """
    hidden = page_context.hosts.hidden
    documents = {
        path: document
        for document in project.of_kind(*NAMES)
        if (path := _path(document)).removesuffix(".html") not in hidden
    }
    page_context.pages = {
        path.removesuffix(".html"): str(document.value["title"])
        for path, document in documents.items()
    }
    opened = [
        ContentNode.whole_of(document, page_context, path)
        for path, document in sorted(documents.items())
    ]
    sections = groups(project.one("nav"), opened)
    front = [
        ContentNode.whole_of(each, page_context, "index.html") for each in project.of_kind("home")
    ]
    made: list[Draft] = [("home", each, home.context(each, sections)) for each in front]
    made += [(str(each["kind"].value), each, shown(each, opened)) for each in opened]
    if page_context.problems:
        raise ProblemsFound(page_context.problems)
    return made, sections


def make(project: Project, page_context: PageContext) -> Handbook:
    """Every page of the project.

    Raises:
        ProblemsFound: A file names something that isn't there; all such places at once.
    """
    drafted, sections = drafts(project, page_context)
    nav = project.one("nav")
    opened = [node for kind, node, _ in drafted if kind != "home"]
    pages = [_page(kind, node, values, nav) for kind, node, values in drafted]
    pages = [
        _with_links(page, node, opened) for page, (_, node, _) in zip(pages, drafted, strict=True)
    ]
    synonyms = project.one("words").get("synonyms", {})
    stop_page = next((f"{each.value['stop_page']}.html" for each in project.of_kind("home")), "")
    facts = {
        **readings.facts(page_context),
        **checks.facts(opened),
        "shared": shared.keys(page_context, opened),
        "cards": card.facts(opened),
    }
    symptoms = [each for node in opened for each in procedure.symptoms(node)]
    bundle, asked = page_context.bundle, page_context.questions
    return Handbook(pages, sections, bundle, synonyms, facts, stop_page, symptoms, asked)


def _with_links(page: Page, node: ContentNode, opened: list[ContentNode]) -> Page:
    """The page with the procedures that it names linked, and its first use of each term."""
    if page.kind in UNLINKED:
        return page
    others = [each for each in opened if each.path != page.path]
    procedures = {
        stem_of(each.document.file): node.link(each.path)
        for each in others
        if each["kind"].value == "procedure"
    }
    html = procedures_linked(page.html, procedures)
    for each in others:
        if each["terms"].value:
            html = glossary.linked(html, each["terms"].value, node.link(each.path))
    return replace(page, html=html)


def _path(document: Document) -> str:
    return f"{NAMES[document.value['kind']].folder}/{stem_of(document.file)}.html"


def _page(kind: str, node: ContentNode, values: dict[str, Any], nav: dict[str, Any]) -> Page:
    # The first page has the name of the whole, which its host sets.
    title = node.page_context.site_name if kind == "home" else str(node["title"].value)
    summary = str(node["summary"].value or "")
    section = section_title(nav, node)
    shared = {
        "page": {
            "title": title,
            "summary": summary,
            "section": section,
            "host": node.page_context.hosts.written.get(node.path, ""),
            "codes": codes_at(node.page_context, node.path.removesuffix(".html")),
        },
        "contact": node.page_context.emergency_contact,
        "provenances": node.page_context.provenances,
        "links": {
            "sources": node.link("reference/sources.html"),
            "provenances": node.link("reference/standings.html"),
        },
    }
    return Page(node.path, kind, title, summary, render(kind, {**values, **shared}))
