"""What the record's script lays out on paper: rows, checks, and the words with them."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from build_tools.pages.content_node import ContentNode

STEPS = ("found_in", "left_in", "else_in")


def facts(node: ContentNode, pages: Sequence[ContentNode]) -> dict[str, Any]:
    """Everything but the readings themselves; nothing where the record's page says nothing of it.

    Args:
        node: The record's page.
        pages: Every page of the handbook: their steps say what is a check, their questions what
            the answers of a visit are called.
    """
    printed = node["printed"]
    if not printed.value:
        return {}
    return {
        "groups": [
            {"title": group["title"].value, "rows": [_row(row) for row in group["rows"].nodes()]}
            for group in printed["groups"].nodes()
        ],
        "heatInput": [_row(row) for row in printed["heat_input"].nodes()],
        "checks": list(dict.fromkeys(name for page in pages for name in _checks(page))),
        "questions": {name: each for page in pages for name, each in _questions(page)},
        "sure": printed["sure"].value,
        "cautions": printed["cautions"].value,
        "foot": printed["foot"].value,
        "signed": node["signed"].value,
    }


def _row(node: ContentNode) -> dict[str, Any]:
    """A row as the script takes it: a figure by the label that the record keeps it under."""
    row: dict[str, Any] = {"label": node["label"].value, "between": node["between"].value or "to"}
    for side in ("found", "left"):
        row[side] = [str(each.value) for each in node[side].nodes()]
    steps = node.page_context.bundle["steps"]
    for key in STEPS:
        if node[key].value and node[key].known(node[key].value, steps, "step that answers"):
            row[key] = node[key].value
    row["claims"] = [str(each.value) for each in node["claims"].nodes()]
    for each in node["claims"].nodes():
        each.known(each.value, steps, "step that answers")
    if figure := node["figure"].value:
        row["judged"] = node["judged"].value == "yes"
        words = node.page_context.calculator_files.get(node["calculator"].value)
        labels: Mapping[str, Any] = words.value.get("outputs", {}) if words else {}
        if node["figure"].known(figure, labels, "answer of that calculator"):
            row["figure"] = labels[figure]["label"]
    return row


def _checks(page: ContentNode) -> Iterator[str]:
    """Readings that are answered by a word which is in order or not."""
    for step in page["steps"].nodes():
        if step["outcome"]["options"].value:
            yield str(step["reading"].nodes()[0].value)


def _questions(page: ContentNode) -> Iterator[tuple[str, dict[str, Any]]]:
    for name, each in (page["questions"].value or {}).items():
        yield name, {"label": each["label"], "options": dict(each["options"])}
