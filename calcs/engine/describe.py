"""Describes a calculator for forms, pages and the command line."""

from __future__ import annotations

import inspect
from collections.abc import Mapping
from typing import Any

from calcs.engine.chart import shape_facts
from calcs.engine.declarations import (
    AnyInput,
    Calculator,
    Choice,
    Day,
    Input,
    Instrument,
    Rows,
    TableShape,
)
from calcs.engine.in_force import InForce
from calcs.engine.reference import Reference
from calcs.engine.registry import DECISION_RULE, OWN, all_inputs
from calcs.engine.units import unit_text


def describe(calculator: Calculator, reference: Reference, on: Any) -> dict[str, Any]:
    """What a form or a page needs to know of a calculator, as JSON.

    Args:
        calculator: One of `calculators()`.
        reference: Figures and words.
        on: Day for which default values are looked up.
    """
    words = reference.words(calculator.id)
    in_force = InForce(reference, on)
    doc = inspect.getdoc(calculator.formula) or ""
    return {
        "id": calculator.id,
        "title": words.get("title", calculator.id.replace("_", " ")),
        "inputs": [_input(item, words, in_force) for item in all_inputs(calculator)],
        "outputs": [
            {
                "name": output.name,
                "label": _label(words, "outputs", output.name),
                "unit": output.unit,
                # "{reading}" stands for the unit that the reader gives the input `reading` in.
                "text": "" if "{" in output.unit else unit_text(output.unit),
                "places": output.places,
            }
            for output in calculator.outputs
        ],
        "verdicts": [
            {"name": name, "label": _label(words, "verdicts", name)} for name in calculator.verdicts
        ],
        "tables": [
            {
                "name": table.name,
                "label": _label(words, "tables", table.name),
                "columns": columns_of(table, words),
            }
            for table in calculator.tables
        ],
        "charts": [
            {**shape_facts(shape, words), "series": list(shape.series)}
            for shape in calculator.charts
        ],
        "notes": list(calculator.notes),
        "rulings": list(calculator.rulings),
        "refusals": list(calculator.refusals),
        "uses": sorted({*calculator.uses, *_defaults(calculator)}),
        "sources": [
            {
                "id": cite.id,
                "where": cite.where,
                "title": reference.sources.get(cite.id, {}).get("title", cite.id),
            }
            for cite in calculator.sources
        ],
        "not_covered": _not_covered(doc),
    }


def columns_of(table: TableShape, words: Mapping[str, Any]) -> list[dict[str, str]]:
    """Name, label and unit of each column of a table."""
    own = words.get("tables", {}).get(table.name, {}).get("columns", {})
    return [
        {
            "name": column.name,
            "label": own.get(column.name, {}).get("label", column.name.replace("_", " ")),
            "unit": column.unit,
            "text": unit_text(column.unit),
        }
        for column in table.columns
    ]


def _defaults(calculator: Calculator) -> list[str]:
    return [item.default for item in calculator.inputs if isinstance(item, Input) and item.default]


def _not_covered(doc: str) -> str:
    _, _, after = doc.partition("Not covered:")
    return " ".join(after.split("\n\n")[0].split())


def _label(words: Mapping[str, Any], group: str, name: str) -> str:
    label: str = words.get(group, {}).get(name, {}).get("label", name.replace("_", " "))
    return label


def _input(item: AnyInput, words: Mapping[str, Any], in_force: InForce) -> dict[str, Any]:
    own = words.get("inputs", {}).get(item.name, {})
    when = getattr(item, "when", None)
    shared = {
        "name": item.name,
        "label": own.get("label", item.name.replace("_", " ")),
        "help": own.get("help", ""),
        "seldom": own.get("seldom") == "yes" or item.name == DECISION_RULE.name,
        "when": {"input": when.input, "is": list(when.options)} if when else None,
    }
    match item:
        case Input():
            return {"kind": "quantity", **shared, **_quantity(item, in_force)}
        case Choice():
            options = own.get("options", {})
            listed = [
                {"value": value, "label": options.get(value, value.replace("_", " "))}
                for value in item.options
            ]
            return {
                "kind": "choice",
                **shared,
                "options": listed,
                "default": item.default,
                "optional": item.optional or item.default is not None,
            }
        case Instrument():
            return {"kind": "instrument", **shared, **_instrument(item, own, in_force)}
        case Day():
            return {"kind": "day", **shared, "optional": item.optional}
        case Rows():
            columns = own.get("columns", {})
            inner = {"inputs": {**words.get("inputs", {}), **columns}}
            return {
                "kind": "rows",
                **shared,
                "columns": [_input(column, inner, in_force) for column in item.columns],
                "low": item.low,
                "high": item.high,
            }


def _quantity(item: Input, in_force: InForce) -> dict[str, Any]:
    units = [item.unit, *item.also]
    default = None
    if item.default:
        # A default that depends on a choice is looked up when the choice is known.
        known = "{" not in item.default and in_force.held(item.default)
        dated_value = in_force.dated_value(item.default) if known else None
        value, _, unit = (dated_value.value or "").partition(" ") if dated_value else ("", "", "")
        default = {
            "figure": item.default,
            "value": value or None,
            "unit": unit or None,
            "provenance": dated_value.provenance if dated_value else None,
        }
    return {
        "unit": item.unit,
        "units": [{"unit": unit, "text": unit_text(unit)} for unit in units],
        "low": item.low,
        "high": item.high,
        "optional": item.optional or item.default is not None,
        "default": default,
        "read_with": item.read_with,
    }


def _instrument(item: Instrument, own: Mapping[str, Any], in_force: InForce) -> dict[str, Any]:
    offered = {
        name: instrument["title"]
        for name, instrument in in_force.reference.instruments.items()
        if item.measures in ("*", instrument["measures"])
    }
    named = own.get("options", {})
    offered[OWN] = named.get(OWN, "Another: type its resolution and accuracy")
    return {
        "measures": item.measures,
        "options": [{"value": value, "label": label} for value, label in offered.items()],
        "default": item.default,
        "optional": True,
    }
