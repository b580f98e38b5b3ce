"""What holds for every calculator, tried on inputs drawn from its own declared ranges."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calcs.bridge import Bridge
from calcs.engine.declarations import WRITTEN, Input
from calcs.engine.read_inputs import decisive
from calcs.engine.registry import all_inputs, calculators
from calcs.engine.units import Quantity, parse_unit
from tests.calcs.calculators.strategies import NONSENSE, inputs
from tests.tables.every_row import every_row
from tests.tables.rows import TODAY, Row, rows

ALL = list(calculators().values())
ANSWERED_ROWS = [row for row in rows() if "refused" not in row.facts]
SETTINGS = settings(
    max_examples=30,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
    derandomize=True,
)
# Refusals that a reader may meet with inputs that are each within their range.
HONEST = {"impossible", "missing", "not_held", "not_in_force", "wrong_unit", "out_of_range"}


def ask(bridge: Bridge, calculator: str, typed: dict[str, Any], **more: Any) -> dict[str, Any]:
    request = {
        "action": "run",
        "calculator": calculator,
        "today": TODAY,
        "inputs": typed,
        **more,
    }
    reply: dict[str, Any] = json.loads(bridge.answer(json.dumps(request)))
    return reply


@pytest.mark.parametrize("calculator", ALL, ids=lambda one: one.id)
@SETTINGS
@given(data=st.data())
def test_inputs_in_range_give_finite_answers_or_a_reason(calculator, bridge, data):
    typed = data.draw(inputs(calculator, bridge.reference))
    reply = ask(bridge, calculator.id, typed)
    assert "failed" not in reply, reply
    for refusal in reply.get("refused", []):
        assert refusal["kind"] in HONEST, refusal
        assert refusal["message"]
    for answer in reply.get("answer", {}).get("answers", []):
        assert math.isfinite(answer["value"]), answer
        assert answer["uncertainty"] is None or answer["uncertainty"] >= 0


@pytest.mark.parametrize("calculator", ALL, ids=lambda one: one.id)
@SETTINGS
@given(data=st.data())
def test_nonsense_in_any_field_is_refused_by_name(calculator, bridge, data):
    typed = data.draw(inputs(calculator, bridge.reference))
    fields = [name for name, one in typed.items() if "unit" in one]
    if not fields:
        return
    name = data.draw(st.sampled_from(fields))
    nonsense = data.draw(NONSENSE)
    reply = ask(bridge, calculator.id, {**typed, name: {**typed[name], "value": nonsense}})
    assert "failed" not in reply, reply
    if decisive(calculator, typed):  # a smell of gas: no slip in another field outweighs it
        assert reply["answer"]["verdicts"][0]["outcome"] == "does_not_meet"
        return
    kinds = [item for item in all_inputs(calculator) if item.name == name]
    if nonsense.strip() and not (_has_unit(nonsense) and getattr(kinds[0], "any_kind", False)):
        assert name in {refusal["field"] for refusal in reply["refused"]}


def _has_unit(nonsense: str) -> bool:
    """A length is no nonsense where any kind of quantity may be typed."""
    return nonsense.endswith("furlongs")


@pytest.mark.parametrize("calculator", ALL, ids=lambda one: one.id)
def test_out_of_range_is_refused_by_name(calculator, bridge):
    for item in all_inputs(calculator):
        if not isinstance(item, Input):
            continue
        when = {item.when.input: {"value": item.when.options[0]}} if item.when else {}
        for beyond in (item.low - abs(item.low) - 1, item.high * 1.01 + 1):
            typed = {**when, item.name: {"value": repr(float(beyond)), "unit": item.unit}}
            reply = ask(bridge, calculator.id, typed)
            kinds = {one["field"]: one["kind"] for one in reply["refused"]}
            assert kinds.get(item.name) == "out_of_range", (item.name, beyond, reply)


# An index counts in the unit of its meter, and the step of the reader's own meter says in which.
# Readings in another are asked about.
READ_OFF = {
    (calculator, reading)
    for calculator in ("purge", "gas_rate")
    for reading in ("first_reading", "second_reading", "index_resolution", "meter_resolution")
} | {("gas_rate", "volume")}


def in_other_unit(row: Row) -> list[dict[str, Any]]:
    """The row's request once for each other unit of each input, the value converted."""
    found = []
    declared = {item.name: item for item in all_inputs(calculators()[row.calculator])}
    judged = "decision_rule" in declared
    for name, typed in row.request["inputs"].items():
        item = declared.get(name)
        if not isinstance(item, Input) or item.any_kind or not item.also:
            continue
        if (row.calculator, name) in READ_OFF:
            continue
        number, _, unit = typed["value"].partition(" ")
        if not unit or (name.endswith("_accuracy") and unit == "percent"):
            continue  # percent of a reading is no number of parts in a million
        value = Quantity(float(number), parse_unit(unit))
        for other in (item.unit, *item.also):
            if not value.is_compatible_with(other):
                continue
            same = {"value": repr(value.to(other).magnitude), "unit": other}
            found.append({**row.request, "inputs": {**row.request["inputs"], name: same}})
            if item.uncertainty == WRITTEN and judged:
                # Its digits are its uncertainty, and a conversion gives it others.
                found[-1]["inputs"]["decision_rule"] = {"value": "simple"}
    return found


@every_row(ANSWERED_ROWS)
def test_any_unit_gives_the_same_answer(row, bridge):
    befores: dict[str, Any] = {}  # as the row has it, by the rule of decision
    for request in in_other_unit(row):
        after = begun(bridge, request)
        rule = {key: one for key, one in request["inputs"].items() if key == "decision_rule"}
        if str(rule) not in befores:
            typed = {**row.request, "inputs": {**row.request["inputs"], **rule}}
            befores[str(rule)] = begun(bridge, typed)
        before = befores[str(rule)]
        for one, other in zip(before["answers"], after["answers"], strict=True):
            there = Quantity(other["value"], other["unit"]).to(one["unit"]).magnitude
            assert math.isclose(one["value"], there, rel_tol=1e-9, abs_tol=1e-9), request
        outcomes = [one["outcome"] for one in before["verdicts"]]
        assert [one["outcome"] for one in after["verdicts"]] == outcomes


def begun(bridge: Bridge, request: dict[str, Any]) -> dict[str, Any]:
    """The figures and verdicts without the working. There are thousands of requests."""
    found: dict[str, Any] = bridge.reply({**request, "action": "begin"})["answer"]
    return found


def answer(bridge: Bridge, calculator: str, name: str, **typed: str) -> float:
    reply = ask(bridge, calculator, {key: {"value": value} for key, value in typed.items()})
    values = {one["name"]: one["value"] for one in reply["answer"]["answers"]}
    return float(values[name])


@SETTINGS
@given(seconds=st.floats(10, 3600), more=st.floats(1.001, 2))
def test_more_time_for_the_same_gas_is_less_heat(bridge, seconds, more):
    given_volume = {"volume": "0.1 m³", "calorific_value_gross": "39 MJ/m³"}
    quick = answer(bridge, "gas_rate", "heat_input_net", elapsed=f"{seconds!r} s", **given_volume)
    slow = answer(
        bridge, "gas_rate", "heat_input_net", elapsed=f"{seconds * more!r} s", **given_volume
    )
    assert slow < quick


@SETTINGS
@given(seconds=st.floats(10, 7200))
def test_gas_rate_reversed_returns_the_time(bridge, seconds):
    common = {"volume": "0.1 m³", "calorific_value_gross": "39 MJ/m³"}
    heat = answer(bridge, "gas_rate", "heat_input_net", elapsed=f"{seconds!r} s", **common)
    if not 0.5 <= heat <= 5000:
        return
    back = answer(
        bridge,
        "gas_rate",
        "expected_elapsed",
        question="time_to_expect",
        plate_input=f"{heat!r} kW",
        **common,
    )
    assert math.isclose(back, seconds, rel_tol=1e-9)


@SETTINGS
@given(pressure=st.floats(0.5, 50), more=st.floats(1.001, 3))
def test_more_burner_pressure_is_more_heat(bridge, pressure, more):
    plate = {"control": "fixed", "plate_max": "12.5 mbar", "plate_input": "27 kW"}
    low = answer(
        bridge, "burner_pressure", "input_left_max", left_max=f"{pressure!r} mbar", **plate
    )
    high = answer(
        bridge, "burner_pressure", "input_left_max", left_max=f"{pressure * more!r} mbar", **plate
    )
    assert high > low
