"""What a calculator asks, and what it answers, as lines of text."""

from __future__ import annotations

import json
from typing import Any


def shown(found: dict[str, Any]) -> str:
    """What a calculator asks and answers."""
    lines = [found["title"], "", "Inputs", *_inputs_shown(found["inputs"], 2)]
    lines += ["", "Answers"]
    lines += [f"  {item['name']:37} {item['unit']}" for item in found["outputs"]]
    return "\n".join(lines)


def _inputs_shown(inputs: list[dict[str, Any]], indent: int) -> list[str]:
    """One line for each input with what it accepts; a table's columns stand under it."""
    lines = []
    for item in inputs:
        accepts = item["kind"]
        if item["kind"] == "quantity":
            accepts = f"{item['low']:g} to {item['high']:g} {item['unit']}".rstrip()
        elif item["kind"] == "rows":
            columns = item["columns"]
            needed = [one for one in columns if not one.get("optional") and not one["when"]]
            example = json.dumps([{(needed or columns)[0]["name"]: "…"}], ensure_ascii=False)
            accepts = f"{item['low']} to {item['high']} rows such as {example}, of"
        elif "options" in item:
            accepts = " | ".join(option["value"] for option in item["options"])
        when = item.get("when")
        told = f"  when {when['input']} is {' or '.join(when['is'])}" if when else ""
        told += "  (optional)" if item.get("optional") else ""
        lines.append(f"{' ' * indent}{item['name']:37} {accepts}{told}")
        lines += _inputs_shown(item.get("columns", []), indent + 4)
    return lines


def answered(found: dict[str, Any]) -> str:
    """An answer with all that is said of it, and its working."""
    lines = [
        f"{item['label']}: {item['text']} {item['uncertainty_text']}".rstrip()
        for item in found["answers"]
    ]
    lines += found["no_uncertainty_reasons"]
    lines += [
        f"{item['label']}: {item['outcome'].replace('_', ' ')}. {item['text']}"
        for item in found["verdicts"]
    ]
    lines += [item["text"] for item in found["notes"]]
    for table in found["tables"]:
        lines += ["", table["label"], *_columns(table)]
    lines += ["", "Working"]
    for step in found["working"]:
        lines.append(
            f"  {step['label']} = {step['symbols']} = {step['numbers']} = {step['result']}"
        )
    lines += ["", f"Edition {found['edition']}. Arithmetic, not a certificate."]
    return "\n".join(lines)


def _columns(table: dict[str, Any]) -> list[str]:
    """A table as lines, each column as wide as its widest cell."""
    head = [f"{column['label']} {column['text']}".strip() for column in table["columns"]]
    rows = [head, *([cell["text"] for cell in row] for row in table["rows"])]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  " + "  ".join(cell.rjust(width) for cell, width in zip(row, widths, strict=True))
        for row in rows
    ]
