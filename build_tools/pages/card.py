"""The page of appliance cards: what one holds, and the one that is invented."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from build_tools.pages import resolve
from build_tools.pages.content_node import ContentNode
from calcs.engine.units import unit_text

SCHEMA = "assets/handbook/appliance_card.schema.json"  # the form of an exported file
SECTIONS = (
    ("cards", "Cards on this device"),
    ("invented", "An invented card"),
    ("write", "Write a card"),
    ("export-import", "Export and import"),
)


def context(node: ContentNode, _: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of appliance cards."""
    fields = [_field(each) for each in node["fields"].nodes()]
    return {
        **resolve.usual(node, SECTIONS),
        "cautions": node["cautions"].htmls(),
        "fields": fields,
        "invented": _invented(node.page_context.invented_card, fields),
        "schema": node.link(SCHEMA),
    }


def facts(pages: Iterable[ContentNode]) -> list[dict[str, Any]]:
    """What the script of a visit does with each field of a card.

    Returns:
        Each field in the order of the page: `id`, `label`, the `reading` that it fills, and the
        `steps` that show its words, as procedure.step.
    """
    return [
        {
            "id": each["id"].value,
            "label": each["label"].value,
            **({"reading": each["reading"].value} if each["reading"].value else {}),
            **({"steps": each["steps"].value} if each["steps"].value else {}),
        }
        for page in pages
        if page["kind"].value == "card"
        for each in page["fields"].nodes()
    ]


def _field(node: ContentNode) -> dict[str, Any]:
    reading = node.page_context.visit_record.get(node["reading"].value, {})
    return {
        "id": node["id"].value,
        "part": node["part"].html,
        "label": node["label"].html,
        "help": node["help"].html,
        "unit": unit_text(reading["unit"]) if reading.get("unit") else "",
        "options": reading.get("options", []),
        "is_figure": bool(reading) and "options" not in reading,
    }


def _invented(card: Mapping[str, Any], fields: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """The card that comes with the handbook, its lines in the order of the fields."""
    lines = card.get("lines", {})
    return {
        **{name: card.get(name, "") for name in ("name", "edition", "day")},
        "lines": [
            {"id": each["id"], "label": each["label"], **lines[each["id"]]}
            for each in fields
            if each["id"] in lines
        ],
    }
