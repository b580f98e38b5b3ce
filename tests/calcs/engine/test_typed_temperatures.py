"""A temperature and a difference of temperatures are written alike: each field takes its own."""

from __future__ import annotations

import json
import math
from datetime import date
from typing import Any

import pytest

from build_tools.runtime.snapshot_cases import cases
from calcs.engine.declarations import AnyInput, Calculator, Input, Rows
from calcs.engine.registry import OWN, all_inputs, calculators
from calcs.engine.units import is_scale, parse_quantity, parse_unit, same_kind
from tests.tables.rows import TODAY

# Each writes the same temperature, or the same difference: ISO 80000-5, 5-1 and 5-2 (t is
# T - 273.15 K); NIST SP 811, B.9 (°F is 1.8 °C + 32; a step of 1 °C is one of 1.8 °F and of 1 K).
SCALE = ["35 °C", "35 C", "35 degC", "35 deg C", "35 celsius", "95 °F", "95 F", "308.15 K"]
STEP = ["35 °C", "35 C", "35 degC", "35 K", "35 kelvin", "63 °F", "63 F", "35 delta_degC",
        "63 delta_degF", "35 Δ°C"]  # fmt: skip
ONLY_STEP = ["5 delta_degC", "5 Δ°C", "9 delta_degF"]
ALL = list(calculators().values())
FIELDS = [
    (calculator, item, column)
    for calculator in ALL
    for item in all_inputs(calculator)
    for column in ([each.name for each in item.columns] if isinstance(item, Rows) else [None])
]


@pytest.fixture(scope="session")
def examples(bundle_text) -> dict[str, dict[str, Any]]:
    """Inputs of the worked examples, by calculator."""
    asked = [
        json.loads(text) for text, _ in cases(json.loads(bundle_text), date.fromisoformat(TODAY))
    ]
    return {one["calculator"]: one["inputs"] for one in asked if one.get("inputs")}


def ask(bridge, calculator: Calculator, inputs: dict[str, Any]) -> dict[str, Any]:
    request = {"action": "run", "calculator": calculator.id, "today": TODAY, "inputs": inputs}
    reply: dict[str, Any] = json.loads(bridge.answer(json.dumps(request)))
    assert "failed" not in reply, (reply, inputs)
    return reply


def put(inputs: dict[str, Any], item: AnyInput, column: str | None, text: str) -> dict[str, Any]:
    """The example with one text put in, and what must be chosen for the field to count."""
    found = dict(inputs)
    declared = item
    if isinstance(item, Rows) and column:
        declared = next(each for each in item.columns if each.name == column)
        row = dict(next(iter(found.get(item.name, {}).get("rows", [])), {}))
        if declared.when:
            row[declared.when.input] = {"value": declared.when.options[0]}
        found[item.name] = {"rows": [{**row, column: {"value": text}}] * max(1, item.low)}
    else:
        found[item.name] = {"value": text}
    when = getattr(item, "when", None)
    if when:
        found[when.input] = {"value": when.options[0]}
        if when.options[0] == OWN:
            figures = (f"{when.input}_resolution", f"{when.input}_accuracy")
            found = {**{name: {"value": "1"} for name in figures}, **found}
    return found


def told_of(item: AnyInput, column: str | None, refusal: dict[str, Any]) -> bool:
    """Whether a refusal is of the field itself."""
    field = refusal["field"] or ""
    return field == item.name if column is None else field.startswith(f"{item.name}[") and (
        field.endswith(f".{column}")
    )  # fmt: skip


def quantity_of(item: AnyInput, column: str | None) -> Input | None:
    declared = item
    if isinstance(item, Rows):
        declared = next(each for each in item.columns if each.name == column)
    return declared if isinstance(declared, Input) else None


@pytest.mark.parametrize("calculator", ALL, ids=lambda one: one.id)
def test_every_spelling_in_every_field_is_answered_or_refused_by_name(bridge, examples, calculator):
    for _, item, column in (field for field in FIELDS if field[0] is calculator):
        kind = quantity_of(item, column)
        takes = kind is not None and (kind.any_kind or same_kind(kind.unit, "K"))
        for text in dict.fromkeys((*SCALE, *STEP, *ONLY_STEP, "-5 °C", "1e9 K", "-300 °C")):
            reply = ask(bridge, calculator, put(examples[calculator.id], item, column, text))
            if not takes:
                told = [each for each in reply["refused"] if told_of(item, column, each)]
                assert told, (item.name, column, text, reply)


TEMPERATURES = [
    pytest.param(calculator, item, column, id=f"{calculator.id}.{item.name}.{column or ''}")
    for calculator, item, column in FIELDS
    if (kind := quantity_of(item, column)) and not kind.any_kind and same_kind(kind.unit, "K")
]


def test_the_fields_are_found():
    scales = [is_scale(parse_unit(quantity_of(*each.values[1:]).unit)) for each in TEMPERATURES]
    assert (scales.count(True), scales.count(False)) >= (16, 11)


@pytest.mark.parametrize(("calculator", "item", "column"), TEMPERATURES)
def test_every_spelling_gives_the_same_answer(bridge, examples, calculator, item, column):
    kind = quantity_of(item, column)
    on_scale = is_scale(parse_unit(kind.unit))
    replies = []
    for text in SCALE if on_scale else STEP:
        reply = ask(bridge, calculator, put(examples[calculator.id], item, column, text))
        replies.append(told(item, column, reply))
    assert len({json.dumps(one, sort_keys=True) for one in replies}) == 1, replies


def told(item: AnyInput, column: str | None, reply: dict[str, Any]) -> Any:
    """What came out, and what the field was read as, but for the units and the last digits."""
    if "refused" in reply:
        return [(one["field"], one["kind"]) for one in reply["refused"]]
    answer = reply["answer"]
    read = answer["inputs"][item.name]
    one = read["rows"][0][column] if column else read
    kelvin = parse_unit("K")
    there = parse_quantity(f"{one['value']!r} {one['unit']}").to(kelvin).magnitude
    values = [f"{each['value']:.6g}" for each in answer["answers"]]
    outcomes = [each["outcome"] for each in answer["verdicts"]]
    return [f"{there:.9g}", values, outcomes]


@pytest.mark.parametrize(("calculator", "item", "column"), TEMPERATURES)
def test_a_difference_is_no_temperature(bridge, examples, calculator, item, column):
    if not is_scale(parse_unit(quantity_of(item, column).unit)):
        return
    for text in ONLY_STEP:
        reply = ask(bridge, calculator, put(examples[calculator.id], item, column, text))
        found = [each for each in reply["refused"] if told_of(item, column, each)]
        assert found[0]["kind"] == "wrong_unit", (text, reply)
        assert "That is a difference of temperatures." in found[0]["message"]


@pytest.mark.parametrize(
    ("text", "rise"),
    [("35 °C", 35), ("35 K", 35), ("63 °F", 35), ("35", 35), ("63 delta_degF", 35)],
)
def test_a_rise_is_the_rise_that_was_typed(bridge, examples, text, rise):
    """By hand: 9.5 l/min heated by a rated rise of 35 °C."""
    example = {**examples["hot_water"], "rated_rise": {"value": text}}
    read = ask(bridge, calculators()["hot_water"], example)["answer"]["inputs"]["rated_rise"]
    there = parse_quantity(f"{read['value']!r} {read['unit']}").to("kelvin").magnitude
    assert math.isclose(there, rise, rel_tol=1e-12)


@pytest.mark.parametrize("reading", [*SCALE[::3], "35 K", *ONLY_STEP])
def test_any_reading_against_any_limit_is_judged_or_refused_by_name(bridge, reading):
    """Where a field takes any kind of unit, the others must be of the reading's kind."""
    fields = ("low_limit", "high_limit", "expanded_uncertainty", "instrument_resolution",
              "instrument_accuracy")  # fmt: skip
    for name in fields:
        for text in (*SCALE[::3], "5 K", *ONLY_STEP):
            inputs = {"reading": reading, "high_limit": "60 °C", name: text}
            if reading in ONLY_STEP:
                inputs = {**inputs, "high_limit": "60 delta_degC", name: text}
            if name == "expanded_uncertainty":
                inputs["uncertainty_from"] = "certificate"
            if name.startswith("instrument_"):
                inputs = {"instrument": OWN, "instrument_resolution": "0.1 K", **inputs}
            typed = {key: {"value": value} for key, value in inputs.items()}
            reply = ask(bridge, calculators()["reading_verdict"], typed)
            mixed = name.endswith("_limit") and (
                (reading in ONLY_STEP and text in SCALE and not text.endswith("K"))
                or (text in ONLY_STEP and reading not in ONLY_STEP and not reading.endswith("K"))
            )
            if mixed:
                (refusal,) = reply["refused"]
                assert (refusal["field"], refusal["kind"]) == (name, "wrong_unit"), typed
