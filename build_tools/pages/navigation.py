"""The sections of the handbook, and which page stands in which."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from build_tools.pages.content_node import ContentNode

KINDS = {
    "procedures": "Procedures",
    "record": "Record",
    "calculators": "Calculators",
    "reference": "Reference",
}


@dataclass(frozen=True)
class NavItem:
    """A page as a list shows it."""

    path: str
    title: str
    summary: str

    @property
    def source(self) -> str:
        """Name of the file that MkDocs is told the page comes from."""
        return self.path.removesuffix(".html") + ".md"

    @property
    def stem(self) -> str:
        """`gas_rate` of `calculators/gas_rate.html`."""
        return self.path.rpartition("/")[2].removesuffix(".html")


@dataclass
class Section:
    """One section of one kind of page."""

    id: str
    title: str
    summary: str
    pages: list[NavItem] = field(default_factory=list)


@dataclass
class Group:
    """All sections of one kind of page."""

    kind: str
    title: str
    sections: list[Section]


def groups(nav: Mapping[str, Any], nodes: Iterable[ContentNode]) -> list[Group]:
    """Sections in the order of content/_nav.yaml, each with its pages. Empty ones are left out.

    Pages stand as the `order` of their section says; those that it does not name follow.
    """
    sections = {
        (each["kind"], each["id"]): Section(each["id"], each["title"], each.get("summary", ""))
        for each in nav.get("sections", [])
    }
    for node in nodes:
        kind = node.path.partition("/")[0]
        ids = [section for its_kind, section in sections if its_kind == kind]
        name = node["group"].value
        if node["group"].known(name, ids, f"section of {kind}"):
            entry = NavItem(node.path, node["title"].value, node["summary"].value or "")
            sections[kind, name].pages.append(entry)
    for each in nav.get("sections", []):
        _put_in_order(sections[each["kind"], each["id"]].pages, each.get("order", []))
    return [
        Group(kind, title, found)
        for kind, title in KINDS.items()
        if (found := [each for (its, _), each in sections.items() if its == kind and each.pages])
    ]


def _put_in_order(pages: list[NavItem], order: list[str]) -> None:
    places = {stem: place for place, stem in enumerate(order)}
    pages.sort(key=lambda page: places.get(page.stem, len(places)))


def section_title(nav: Mapping[str, Any], node: ContentNode) -> str:
    """Title of the section that a page stands in."""
    kind = node.path.partition("/")[0]
    for each in nav.get("sections", []):
        if (each["kind"], each["id"]) == (kind, node["group"].value):
            return str(each["title"])
    return ""
