"""The page of a class's results: which papers there are, and what happens to the files."""

from collections.abc import Sequence
from typing import Any

from build_tools.pages import resolve
from build_tools.pages.content_node import ContentNode

SECTIONS = (
    ("class", "Your class"),
    ("about", "What this is"),
)


def context(node: ContentNode, _: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of the page."""
    held = node.page_context.questions.get("papers", {})
    return {
        **resolve.usual(node, SECTIONS),
        "private": node["private"].htmls(),
        "papers": [{"id": name, "title": each["title"]} for name, each in held.items()],
    }
