"""One request answered: inputs read, the formula run, the readings judged, all put in one shape."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from calcs.engine import no_uncertainty, read_inputs, working
from calcs.engine.chart import Chart, chart_facts
from calcs.engine.declarations import Calculator, Output
from calcs.engine.describe import columns_of
from calcs.engine.errors import Impossible, Refusal, Refused
from calcs.engine.findings import Cell, Compare, Finding, Note, Ruling, Table
from calcs.engine.given import Given
from calcs.engine.in_force import InForce
from calcs.engine.overrides import read_overrides
from calcs.engine.reference import OwnInstrument, Reference
from calcs.engine.registry import label_of, parameters
from calcs.engine.registry import labels as labels_of
from calcs.engine.request_errors import NotASensibleFigure
from calcs.engine.rounding import format_with_uncertainty
from calcs.engine.traced import Traced, named
from calcs.engine.uncertainty import expanded, in_unit
from calcs.engine.units import is_step, join_unit, number_and_unit, step_of
from calcs.engine.verdict import verdicts


def begin(
    calculator: Calculator,
    reference: Reference,
    inputs: Mapping[str, Any],
    today: date,
    overrides: Any = None,
    *,
    instruments: Mapping[str, OwnInstrument] | None = None,
    names: Mapping[str, str] | None = None,
) -> tuple[dict[str, Any], Callable[[], dict[str, Any]]]:
    """Answer one request, in two parts.

    Args:
        calculator: What is asked.
        reference: Figures and words.
        inputs: What was typed, by name.
        today: Day of the test when none is typed.
        overrides: Figures of the reader's own copy of a source, by name.
        instruments: Those that the reader owns, by their kind.
        names: What inputs are called here, where the calculator's own labels are too general.

    Returns:
        What was found and what it means, for which a reader who types waits; and what gives the
        rest, which is how it came about. Together they have the shape of the handbook's design,
        section 4.

    Raises:
        Refused: Inputs that cannot be used, all of them.
    """
    words = {**labels_of(calculator, reference), **(names or {})}
    mine = instruments or {}
    try:
        on = read_inputs.day_of_test(inputs, today)
        own, refusals = read_overrides(calculator, reference, overrides, on)
        in_force = InForce(reference, on, own, mine)
        given = read_inputs.read(calculator, words, inputs, in_force, refusals)
        return _answered(calculator, reference, given, words)
    except Refused:
        alone = read_inputs.decisive(calculator, inputs)
        if not alone:
            raise
    in_force = InForce(reference, today, {}, mine)
    given = read_inputs.read(calculator, words, alone, in_force, is_decided=True)
    return _answered(calculator, reference, given, words)


def _answered(
    calculator: Calculator,
    reference: Reference,
    given: Given,
    words: Mapping[str, str],
) -> tuple[dict[str, Any], Callable[[], dict[str, Any]]]:
    try:
        return _begun(calculator, reference, given, words)
    except Refusal as refusal:
        raise Refused([refusal]) from refusal
    except (ArithmeticError, ValueError) as problem:
        own = given.in_force.overrides
        if not own:
            raise
        # Each figure is sensible by itself; with these readings they leave nothing to work out.
        told = "With {this} as you give it nothing can be worked out from these readings."
        raise Refused([NotASensibleFigure(name, told=told) for name in own]) from problem


def _begun(
    calculator: Calculator,
    reference: Reference,
    given: Given,
    words: Mapping[str, str],
) -> tuple[dict[str, Any], Callable[[], dict[str, Any]]]:
    results = _computed(calculator, given, words)
    findings = _findings(calculator, given, results)
    outputs = tuple(_in_typed_unit(output, given, results) for output in calculator.outputs)
    answers = [
        _answer(output, results[output.name], words)
        for output in outputs
        if results.get(output.name) is not None
    ]
    own = reference.words(calculator.id)
    first = {
        "calculator": calculator.id,
        "edition": reference.edition,
        "inputs": given.typed,
        "answers": answers,
        "no_uncertainty_reasons": no_uncertainty.told(
            answers, reference.words("_shared").get("no_uncertainty_reasons", {})
        ),
        "verdicts": verdicts(
            [one for one in findings if isinstance(one, Compare | Ruling)],
            calculator,
            reference,
            given,
        ),
        "tables": [
            _table(finding, calculator, words=own)
            for finding in findings
            if isinstance(finding, Table)
        ],
        "notes": [
            _note(finding, calculator, reference)
            for finding in findings
            if isinstance(finding, Note)
        ],
    }

    def rest() -> dict[str, Any]:
        return {
            "charts": [
                _chart(finding, calculator, words=own)
                for finding in findings
                if isinstance(finding, Chart)
            ],
            "working": working.steps(results, outputs, words),
            "cautions": list(own.get("cautions", [])),
            "sources": _sources(calculator, reference, given.in_force),
        }

    return first, rest


def _computed(calculator: Calculator, given: Given, words: Mapping[str, str]) -> dict[str, Any]:
    """Run the formula and put its names on what it returned."""
    taken = parameters(calculator)
    arguments = {name: value for name, value in given.values.items() if name in taken}
    if "ref" in taken:
        arguments["ref"] = given.in_force
    results: dict[str, Any] = {}
    for name, value in calculator.formula(**arguments).items():
        if value is None:
            continue
        if not math.isfinite(value.magnitude):
            told = "These readings give no number. Check each one."
            raise Impossible(calculator.inputs[0].name, told=told)
        label = label_of(words, name)
        if isinstance(value, Traced) and value.name in (None, name):
            value.name, value.label = name, label
            results[name] = value
        else:
            results[name] = named(value, name, label)
    return results


def _in_typed_unit(output: Output, given: Given, results: Mapping[str, Any]) -> Output:
    if "{" not in output.unit or output.name not in results:
        return output
    unit = given.values[output.unit.strip("{}")].units
    # The width of a temperature is a difference; it cannot be shown on the scale itself.
    if is_step(results[output.name].units):
        unit = step_of(unit)
    return replace(output, unit=str(unit))


def _findings(calculator: Calculator, given: Given, results: Mapping[str, Any]) -> list[Finding]:
    if calculator.judge is None:
        return []
    return calculator.judge(given=given.values, answers=results, ref=given.in_force)


def _answer(output: Output, value: Any, words: Mapping[str, str]) -> dict[str, Any]:
    expanded_uncertainty = expanded(value)
    number = float(value.to(output.unit).magnitude)
    width = in_unit(expanded_uncertainty, output.unit)
    shown, uncertainty = output.shown(number), ""
    if width > 0:
        shown, uncertainty = format_with_uncertainty(number, width, output.places)
    number_text, shown_unit = number_and_unit(shown, output.unit)
    return {
        "name": output.name,
        "label": words.get(output.name, output.name.replace("_", " ")),
        "value": number,
        "unit": output.unit,
        "text": join_unit(shown, output.unit),
        "number_text": number_text,
        "unit_text": shown_unit,
        "uncertainty": width if width > 0 else None,
        "uncertainty_text": f"± {uncertainty}" if uncertainty else "",
        "no_uncertainty_reason": None
        if uncertainty
        else no_uncertainty.reason(output, value, width),
    }


def _table(table: Table, calculator: Calculator, *, words: Mapping[str, Any]) -> dict[str, Any]:
    shape = next(shape for shape in calculator.tables if shape.name == table.name)
    return {
        "name": table.name,
        "label": words.get("tables", {}).get(table.name, {}).get("label", table.name),
        "columns": columns_of(shape, words),
        "rows": [
            [_cell(row.get(column.name), column) for column in shape.columns] for row in table.rows
        ],
    }


def _chart(chart: Chart, calculator: Calculator, *, words: Mapping[str, Any]) -> dict[str, Any]:
    shape = next(shape for shape in calculator.charts if shape.name == chart.name)
    return chart_facts(chart, shape, words)


def _cell(value: Cell, column: Output) -> dict[str, Any]:
    """A number keeps its full value for a chart; its unit stands in the head of the column."""
    if value is None or isinstance(value, str):
        return {"value": None, "text": value or ""}
    return {"value": value, "text": column.shown(value)}


def _note(note: Note, calculator: Calculator, reference: Reference) -> dict[str, str]:
    text = reference.sayings(calculator.id, "notes").get(note.name, note.name)
    return {"name": note.name, "text": text.format_map(dict(note.values))}


def _sources(
    calculator: Calculator, reference: Reference, in_force: InForce
) -> list[dict[str, str | None]]:
    """The method's sources, then every figure that was used, with its provenance."""
    method: list[dict[str, str | None]] = [
        {
            "id": cite.id,
            "title": reference.sources.get(cite.id, {}).get("title", cite.id),
            "where": cite.where,
            "provenance": None,
        }
        for cite in calculator.sources
    ]
    looked_up: list[dict[str, str | None]] = [
        {
            "id": (dated_value.source or {}).get("id"),
            "title": f"{dated_value.label}: {dated_value.source_text}",
            "where": dated_value.value,
            "provenance": dated_value.provenance,
        }
        for dated_value in in_force.used.values()
        if not dated_value.name.startswith("decision.")
    ]
    return method + looked_up
