"""The page of a class's results: which papers there are, and what happens to the files."""

from collections.abc import Sequence
from typing import Any

from build_tools.pages import resolve
from build_tools.pages.content_node import ContentNode

SECTIONS = (
    ("class", "Your class"),
    ("about", "What this is"),
    ("related", "Related pages"),
)


def context(node: ContentNode, pages: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of the page.

    Args:
        node: The page's own file.
        pages: Every page of the handbook, which this page needs none of.
    """
    del pages
    related = resolve.related(node["related"])
    held = node.page_context.questions.get("papers", {})
    return {
        "body": node["body"].htmls(),
        "private": node["private"].htmls(),
        "papers": [{"id": name, "title": each["title"]} for name, each in held.items()],
        "related": related,
        "contents": [each for each in SECTIONS if each[0] != "related" or related],
    }
