"""The page of the visit record: every reading there is, and which procedures ask for it."""

from collections.abc import Sequence
from typing import Any

from build_tools.pages import notice, printed_record, resolve
from build_tools.pages.checks import readings_asked
from build_tools.pages.content_node import ContentNode
from calcs.engine.units import unit_text

SCHEMA = "assets/handbook/visit_record.schema.json"  # the form of an exported file
CHECKS = "visit/checks_in_order.html"
SECTIONS = (
    ("visits", "Visits on this device"),
    ("readings", "Readings"),
    ("answers", "Answers and verdicts"),
    ("written", "In words"),
    ("signed", "Signed"),
    ("export-import", "Export and import"),
)


def context(node: ContentNode, pages: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of the visit record.

    Args:
        node: The page's own file.
        pages: Every page of the handbook; its procedures say which readings they ask for.
    """
    return {
        **resolve.usual(node, SECTIONS),
        "cautions": node["cautions"].htmls(),
        "groups": _groups(node),
        "procedures": [
            {
                "title": page["title"].value,
                "link": node.link(page.path),
                "readings": readings,
            }
            for page in pages
            if (readings := readings_asked(page))
        ],
        "written": [
            {
                "id": each["id"].value,
                "label": each["label"].html,
                "help": each["help"].html,
            }
            for each in node["written"].nodes()
        ],
        "signed": node["signed"].htmls(),
        "notice": notice.context(pages),
        "printed": printed_record.facts(node, pages),
        "checks_page": node.link(CHECKS),
        "schema": node.link(SCHEMA),
    }


def _groups(node: ContentNode) -> list[dict[str, Any]]:
    """Every reading under the heading of its group, in the order of the file."""
    groups: dict[str, list[dict[str, Any]]] = {}
    for name, entry in node.page_context.visit_record.items():
        reading = {
            "name": name,
            "label": entry["label"],
            "unit": unit_text(entry["unit"]),
            "options": entry.get("options", []),
        }
        groups.setdefault(entry["group"], []).append(reading)
    return [{"title": title, "readings": readings} for title, readings in groups.items()]
