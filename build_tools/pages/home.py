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
        "tasks": [task for each in node["tasks"].nodes() if (task := _task(each))],
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
    page = _page(node["page"])
    words = {name: node[name].html for name in ("title", "about", "do")}
    return {**words, "link": page["link"] if page else ""}


def _door(node: ContentNode) -> dict[str, Any]:
    words = {name: node[name].html for name in ("title", "about")}
    page = _page(node["page"]) if node["page"].value else None
    link = page["link"] if page else f"#{node['section'].value}"
    also = [beside for each in node["also"].nodes() if (beside := _page(each))]
    return {**words, "link": link, "icon": node["icon"].value, "also": also}


def _task(node: ContentNode) -> dict[str, Any] | None:
    page = _page(node["page"])
    return page and {"do": node["do"].html, "kind": page["kind"], "link": page["link"]}


def _page(node: ContentNode) -> dict[str, Any] | None:
    """A page of the handbook that is named here, as a link to it."""
    page = node.value
    if not node.known(page, node.page_context.pages, "page"):
        return None
    kind = FOLDERS[page.partition("/")[0]].title
    return {"title": node.page_context.pages[page], "kind": kind, "link": node.link(f"{page}.html")}
