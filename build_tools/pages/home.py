"""The home page: what the reader came to do, whose word counts, and every page by section."""

from typing import Any

from build_tools.pages.content_node import ContentNode
from build_tools.pages.navigation import Group
from build_tools.pages.page_context import PageContext
from build_tools.sources.page_kinds import FOLDERS


def context(node: ContentNode, groups: list[Group]) -> dict[str, Any]:
    """Values for the template of the home page."""
    return {
        "visit": _visit(node["visit"]),
        "doors": [_door(each) for each in node["doors"].nodes()],
        "tasks_title": node["tasks_title"].html,
        "tasks": [_task(each) for each in node["tasks"].nodes()],
        "governs_title": node["governs_title"].html,
        "governs": node["governs"].htmls(),
        "who": node["who"].html,
        "stop_title": node["stop_title"].html,
        "stop": node["stop"].htmls(),
        "stop_page": _page(node["stop_page"]),
        "groups": groups,
        "edition": node.page_context.bundle["edition"],
        "day": node.page_context.day.isoformat(),
        "welcomes": _welcomes(node.page_context),
    }


def _welcomes(page_context: PageContext) -> list[dict[str, Any]]:
    """What hosts say to their own readers."""
    pages = [
        (host, ContentNode.whole_of(each, page_context, "index.html"))
        for host, each in page_context.hosts.settings
    ]
    said = ((host, page["home"]["welcome"]) for host, page in pages)
    return [{"host": host, "words": node.htmls()} for host, node in said if node.value]


def _visit(node: ContentNode) -> dict[str, Any]:
    words = {name: node[name].html for name in ("title", "about", "do")}
    return {**words, "link": _page(node["page"])["link"]}


def _door(node: ContentNode) -> dict[str, Any]:
    words = {name: node[name].html for name in ("title", "about")}
    has_page = node["page"].value is not None
    link = _page(node["page"])["link"] if has_page else f"#{node['section'].value}"
    also = [_page(each) for each in node["also"].nodes()]
    return {**words, "link": link, "icon": node["icon"].value, "also": also}


def _task(node: ContentNode) -> dict[str, Any]:
    page = _page(node["page"])
    return {"do": node["do"].html, "kind": page["kind"], "link": page["link"]}


def _page(node: ContentNode) -> dict[str, Any]:
    """A page of the handbook that is named here, as a link to it."""
    page = node.value
    kind = FOLDERS[page.partition("/")[0]].title
    return {"title": node.page_context.pages[page], "kind": kind, "link": node.link(f"{page}.html")}
