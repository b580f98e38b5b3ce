"""The place where the notice of an unsafe situation is drafted: on its page and in the record."""

from collections.abc import Sequence
from typing import Any

from build_tools.pages.content_node import ContentNode


def context(pages: Sequence[ContentNode]) -> dict[str, Any] | None:
    """The words and fields of the draft, as the record's page has them.

    Returns:
        `intro`, `written` and `day`. `days` of it is how long a report may take by the figure in
        force, and empty where none is held: then nothing is counted. None without a draft.
    """
    found = [page["notice"] for page in pages if page["kind"].value == "record"]
    node = next((each for each in found if each.value), None)
    if node is None:
        return None
    limit = node.page_context.limit(str(node["day"]["period"].value))
    return {
        "intro": node["intro"].html,
        "written": [_field(each) for each in node["written"].nodes()],
        "day": _field(node["day"]),
        "days": _days(limit.value),
        "period": limit,
    }


def _field(node: ContentNode) -> dict[str, Any]:
    return {name: node[name].html for name in ("id", "label", "help")}


def _days(period: str) -> str:
    number, _, unit = period.partition(" ")
    return number if number.isdigit() and unit.removesuffix("s") == "day" else ""
