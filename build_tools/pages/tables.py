"""Data tables as the pages show them."""

import re
from dataclasses import replace
from typing import Any

from build_tools.pages.page_context import Limit, PageContext, limit_of, measure
from build_tools.sources.days import in_force

PAGE = "reference/tables.html"
NAME = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)+")  # a word that formulas look a row up by


def shown(page_context: PageContext, stem: str) -> dict[str, Any]:
    """A table's words, the rows that hold on the day, and where they come from."""
    table = page_context.bundle["tables"][stem]
    dated_value = _dated_value(page_context, table)
    rows = [[_cell(cell) for cell in row] for row in dated_value["rows"] or []]
    return {
        "title": table["title"],
        "meaning": table["meaning"],
        "columns": [column["label"] for column in table["columns"]],
        "rows": rows,
        "limit": as_limit(page_context, stem),
    }


def as_limit(page_context: PageContext, stem: str) -> Limit:
    """A table as one line among the numbers: how many rows it has, and its provenance."""
    table = page_context.bundle["tables"][stem]
    dated_value = _dated_value(page_context, table)
    count = len(dated_value["rows"] or [])
    made = limit_of(f"table.{stem}", {**table, "label": table["title"]}, dated_value)
    return replace(made, text=f"{count} rows" if count else "")


def _dated_value(page_context: PageContext, table: dict[str, Any]) -> dict[str, Any]:
    """The rows in force; the last ones that were, where none is."""
    values = table["values"]
    found: dict[str, Any] = dict(in_force(values, page_context.day) or values[-1])
    return found


def _cell(text: str | None) -> str:
    """A measure as the trade writes it, a name as words."""
    if not text:
        return ""
    return text.replace("_", " ") if NAME.fullmatch(text) else measure(text)
