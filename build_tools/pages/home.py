"""The home page: what the reader came to do, whose word counts, and every page by section."""

from typing import Any

from build_tools.pages.content_node import Part
from build_tools.pages.navigation import Group
from build_tools.pages.resolve import KINDS


def context(part: Part, groups: list[Group]) -> dict[str, Any]:
    """Values for the template of the home page."""
    return {
        "tasks_title": part["tasks_title"].text(),
        "tasks": [task for each in part["tasks"].parts() if (task := _task(each))],
        "governs_title": part["governs_title"].text(),
        "governs": part["governs"].texts(),
        "who": part["who"].text(),
        "stop_title": part["stop_title"].text(),
        "stop": part["stop"].texts(),
        "stop_page": _page(part["stop_page"]),
        "record": part.link("record/visit.html"),
        "groups": groups,
        "edition": part.shelf.bundle["edition"],
        "day": part.shelf.day.isoformat(),
    }


def _task(part: Part) -> dict[str, Any] | None:
    page = _page(part["page"])
    return page and {"do": part["do"].text(), "kind": page["kind"], "link": page["link"]}


def _page(part: Part) -> dict[str, Any] | None:
    """A page of the handbook that is named here, as a link to it."""
    page = part.value
    if not part.known(page, part.shelf.pages, "page"):
        return None
    kind = KINDS[page.partition("/")[0]]
    return {"title": part.shelf.pages[page], "kind": kind, "link": part.link(f"{page}.html")}
