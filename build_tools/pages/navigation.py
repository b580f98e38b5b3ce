"""The sections of the handbook, and which page stands in which."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from build_tools.pages.content_node import ContentNode
from build_tools.sources.page_kinds import FOLDERS
from build_tools.sources.project import stem_of


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


@dataclass
class Section:
    """One section of one kind of page."""

    id: str
    title: str
    summary: str
    pages: list[NavItem] = field(default_factory=list)
    menu: str = ""  # the part of the menu that it stands in


@dataclass
class Group:
    """All sections of one kind of page."""

    kind: str
    title: str
    sections: list[Section]


@dataclass(frozen=True)
class Branch:
    """A heading of the menu, and what stands below it."""

    title: str
    items: list["Branch | NavItem"]


def groups(nav: Mapping[str, Any], nodes: Iterable[ContentNode]) -> list[Group]:
    """Sections in the order of content/_nav.yaml, each with its pages. Empty ones are left out.

    Pages stand as the `order` of their section says; those that it does not name follow.
    """
    sections = {
        (each["kind"], each["id"]): Section(
            each["id"], each["title"], each.get("summary", ""), menu=each.get("menu", "")
        )
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
        Group(folder, kind.titles, found)
        for folder, kind in FOLDERS.items()
        if (found := [each for (its, _), each in sections.items() if its == folder and each.pages])
    ]


def menu(grouped: Iterable[Group]) -> list[Branch]:
    """The parts of the menu, in the order in which their sections come."""
    parts: dict[str, list[Group]] = {}
    for group in grouped:
        sections: dict[str, list[Section]] = {}
        for section in group.sections:
            sections.setdefault(section.menu or group.title, []).append(section)
        for title, found in sections.items():
            parts.setdefault(title, []).append(Group(group.kind, group.title, found))
    return [Branch(title, _below(found)) for title, found in parts.items()]


def _below(kinds: list[Group]) -> list[Branch | NavItem]:
    """Pages below one heading. Headings come between them only where there is much to part."""
    parted = [
        (kind.title, [Branch(each.title, [*each.pages]) for each in kind.sections])
        if len(kind.sections) > 1
        else (kind.title, [*kind.sections[0].pages])
        for kind in kinds
    ]
    if len(parted) > 1 and any(isinstance(items[0], Branch) for _, items in parted):
        return [Branch(title, [*items]) for title, items in parted]
    return [item for _, items in parted for item in items]


def _put_in_order(pages: list[NavItem], order: list[str]) -> None:
    places = {stem: place for place, stem in enumerate(order)}
    pages.sort(key=lambda page: places.get(stem_of(page.path), len(places)))


def section_title(nav: Mapping[str, Any], node: ContentNode) -> str:
    """Title of the section that a page stands in."""
    kind = node.path.partition("/")[0]
    for each in nav.get("sections", []):
        if (each["kind"], each["id"]) == (kind, node["group"].value):
            return str(each["title"])
    return ""
