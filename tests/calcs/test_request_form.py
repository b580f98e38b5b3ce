"""Whatever JSON stands at any place of a request: an answer, or a refusal that names the place."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from build_tools.runtime.snapshot_cases import cases
from calcs.engine import overrides
from calcs.engine.declarations import Rows
from calcs.engine.registry import all_inputs, calculators
from tests.tables.rows import TODAY, rows

ALL = list(calculators().values())
SETTINGS = settings(
    max_examples=25,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
WRONG: list[Any] = [True, False, [], {}, [[]], [None], {"rows": 5}, {"value": []}, {"value": True},
                    {"value": {}}, {"value": "1", "unit": 5}, {"valeu": "1"}, {"rows": "x"},
                    {"rows": [5]}, {"rows": [[]]}, {"rows": {"value": "1"}}]  # fmt: skip
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=9),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["value", "unit", "rows", "x"]), inner, max_size=3)
    ),
    max_leaves=6,
)


@pytest.fixture(scope="session")
def examples(bundle_text) -> dict[str, dict[str, Any]]:
    day = date.fromisoformat(TODAY)
    asked = [json.loads(text) for text, _ in cases(json.loads(bundle_text), day)]
    return {one["calculator"]: one for one in asked if one.get("inputs")}


def told(reply: dict[str, Any]) -> list[str]:
    """Fields that a reply refuses; none for an answer."""
    assert "failed" not in reply, reply
    assert all(one["message"] and one["plain"] for one in reply.get("refused", []))
    return [one["field"] for one in reply.get("refused", [])]


@pytest.mark.parametrize("calculator", ALL, ids=lambda one: one.id)
def test_a_wrong_type_in_any_field_is_refused_by_its_name(bridge, examples, calculator):
    asked = examples[calculator.id]
    for item in all_inputs(calculator):
        for wrong in WRONG:
            if isinstance(item, Rows) and wrong in ({}, {"rows": []}):
                continue  # a table without a row
            reply = bridge.reply({**asked, "inputs": {**asked["inputs"], item.name: wrong}})
            if wrong == {}:
                continue  # nothing typed
            assert any(field.startswith(item.name) for field in told(reply)), (item.name, wrong)


@pytest.mark.parametrize("calculator", ALL, ids=lambda one: one.id)
def test_a_wrong_type_in_any_cell_is_refused_by_its_name(bridge, examples, calculator):
    asked = examples[calculator.id]
    for item in all_inputs(calculator):
        for column in item.columns if isinstance(item, Rows) else ():
            for wrong in (True, [], ["x"], {"value": []}, {"rows": []}, {"valeu": "1"}):
                table = {"rows": [{column.name: wrong}]}
                reply = bridge.reply({**asked, "inputs": {**asked["inputs"], item.name: table}})
                assert f"{item.name}[0].{column.name}" in told(reply) or item.when, reply


@pytest.mark.parametrize("calculator", ALL, ids=lambda one: one.id)
def test_no_rows_are_told_as_missing(bridge, examples, calculator):
    asked = examples[calculator.id]
    for item in all_inputs(calculator):
        if not isinstance(item, Rows):
            continue
        for none in ({"rows": None}, {"rows": []}, None, {}):
            reply = bridge.reply({**asked, "inputs": {**asked["inputs"], item.name: none}})
            counts = item.low and not item.when
            assert not counts or item.name in told(reply), (item.name, reply)


PARTS = {
    "inputs": [None, [], "x", 5, True],
    "today": [None, [], {}, 5, True, "soon", "20261125", "2026-W48-3", "2026-13-01", "2026-02-30"],
    "overrides": [[], "x", 5, True, {"x": "1"}],
    "calculator": [None, [], {}, 5, True, "x", "gas_rat"],
}


@pytest.mark.parametrize(
    ("part", "wrong"), [(part, wrong) for part, every in PARTS.items() for wrong in every]
)
def test_a_wrong_type_of_a_part_is_refused_by_its_name(bridge, examples, part, wrong):
    reply = bridge.reply({**examples["gas_rate"], part: wrong})
    names = {"today": "date", "overrides": "x" if isinstance(wrong, dict) else "overrides"}
    assert told(reply) == [names.get(part, part)]


@pytest.mark.parametrize("request_", [None, [], "x", 5, True, {}])
def test_what_is_no_request_is_refused(bridge, request_):
    assert told(json.loads(bridge.answer(json.dumps(request_))))


def places(value: Any, way: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every place in a request, from the outside in."""
    inner = value.items() if isinstance(value, dict) else enumerate(value)
    for key, one in inner if isinstance(value, dict | list) else ():
        yield (*way, key)
        if isinstance(one, dict | list):
            yield from places(one, (*way, key))


@pytest.mark.parametrize("calculator", ALL, ids=lambda one: one.id)
@SETTINGS
@given(data=st.data())
def test_any_json_at_any_place_never_breaks_a_calculator(calculator, bridge, examples, data):
    asked = copy.deepcopy(examples[calculator.id])
    *way, last = data.draw(st.sampled_from(list(places(asked))))
    owner = asked
    for key in way:
        owner = owner[key]
    owner[last] = data.draw(JSON)
    if way or last not in {"action", "edition"}:
        told(json.loads(bridge.answer(json.dumps(asked))))


# Figures of the reader's own.
RUN = {"volume": "0.1 m³", "elapsed": "120 s"}
RATIO = "gas.natural_gas.gross_to_net"
CALORIFIC = "gas.natural_gas.calorific_value_gross"


def with_own(bridge, own: Any, calculator: str = "gas_rate", **typed: str) -> dict[str, Any]:
    inputs = {name: {"value": text} for name, text in (typed or RUN).items()}
    request = {"action": "run", "calculator": calculator, "today": TODAY, "inputs": inputs}
    reply: dict[str, Any] = bridge.reply({**request, "overrides": own})
    return reply


@pytest.mark.parametrize(
    ("name", "figure", "kind", "says"),
    [
        (CALORIFIC, "38 kW", "wrong_unit", "cannot be in “kW”. Use MJ/m³"),
        (CALORIFIC, "38 °C", "wrong_unit", "cannot be in “°C”"),
        (CALORIFIC, "soon", "not_a_number", "must be a number"),
        (CALORIFIC, "", "not_a_number", "must be a number"),
        (CALORIFIC, "nan MJ/m³", "not_a_number", "must be a number"),
        (CALORIFIC, "1e999 MJ/m³", "not_a_number", "must be a number"),
        (CALORIFIC, "38,5 MJ/m³", "not_a_number", "full stop"),
        (CALORIFIC, "-38 MJ/m³", "out_of_range", "must be above nought"),
        (CALORIFIC, "0 MJ/m³", "out_of_range", "must be above nought"),
        (CALORIFIC, "38 kJ/m³", "out_of_range", "Check its unit"),
        (CALORIFIC, "38000 MJ/m³", "out_of_range", "Check its unit"),
        (CALORIFIC, ["38"], "wrong_form", "is a list"),
        (CALORIFIC, True, "wrong_form", "is true or false"),
        (RATIO, "1.1 m", "wrong_unit", "cannot be in “m”. Use a bare number"),
        ("gas.natural_gas.gross_to_nett", "1.1", "unknown", "Did you mean"),
        ("", "1.1", "unknown", "No figure is named"),
        ("water.density", "1000 kg/m³", "unknown", ""),
        ("decision.guard_full", "0", "unknown", "is no figure that this calculator uses"),
    ],
)
def test_a_figure_that_no_copy_has_is_refused_by_name(bridge, name, figure, kind, says):
    refused = with_own(bridge, {name: figure})["refused"]
    (refusal,) = [one for one in refused if one["field"] == name]
    assert refusal["kind"] == kind, refusal
    assert says in refusal["message"], refusal


@pytest.mark.parametrize(
    ("figure", "net"),
    [
        # By hand: 0.1 m³ in 120 s at 36 MJ/m³ is 30 kW gross; at 1.2 gross to net it is 25 kW.
        ("36 MJ/m³", 25), ("36", 25), ("10 kWh/m3", 25), ("36 Mj/m3", 25), (36, 25),
    ],
)  # fmt: skip
def test_a_sensible_figure_is_taken_as_it_would_be_in_a_field(bridge, figure, net):
    answer = with_own(bridge, {CALORIFIC: figure, RATIO: "1.2"})["answer"]
    values = {one["name"]: one["value"] for one in answer["answers"]}
    assert values["heat_input_net"] == pytest.approx(net)
    assert sum(one["provenance"] == "typed-by-reader" for one in answer["sources"]) == 2


def test_a_decision_rule_is_chosen_and_not_typed(bridge):
    own = {"decision.guard_full": "0"}
    limits = {"reading": "5 mbar", "high_limit": "6 mbar"}
    (refusal,) = with_own(bridge, own, "reading_verdict", **limits)["refused"]
    assert "is no figure that can be typed" in refusal["message"]


def test_a_figure_with_which_nothing_can_be_worked_out_is_named(bridge):
    """Air with as much oxygen as the flue gas has been diluted without end."""
    own = {"combustion.air_oxygen_dry": "5 percent"}
    typed = {"oxygen": "5 percent", "carbon_monoxide": "40 ppm", "appliance": "boiler"}
    fields = told(with_own(bridge, own, "combustion", **typed))
    assert {*fields} & {"combustion.air_oxygen_dry", "oxygen"}, fields


def test_figures_and_inputs_are_refused_together(bridge):
    reply = with_own(bridge, {CALORIFIC: "38 kW", "x": "1"}, volume="soon", elapsed="120 s")
    assert {one["field"] for one in reply["refused"]} == {CALORIFIC, "x", "volume"}


@pytest.mark.parametrize("wrong", ["5 furlongs", "-1e9", "x", "5 K", "5 mbar", "5 s", "5", None])
def test_any_figure_of_the_reader_s_own_is_used_or_refused_by_name(bridge, wrong):
    tried = [(row, name) for row in rows() for name in row.request["overrides"]]
    for row, name in tried:
        told(bridge.reply({**row.request, "overrides": {**row.request["overrides"], name: wrong}}))


@pytest.mark.parametrize("calculator", ALL, ids=lambda one: one.id)
def test_no_figure_of_the_reader_s_own_breaks_a_calculator(bridge, examples, calculator):
    """Every figure that it may look up, each with values of its own kind and of another."""
    used = overrides.used_by(calculator)
    for name in filter(used.fullmatch, sorted(bridge.reference.names)):
        unit = bridge.reference.facts(name).get("unit") or ""
        for figure in (f"2 {unit}", f"0.02 {unit}", "5 mbar"):
            reply = bridge.reply({**examples[calculator.id], "overrides": {name: figure.strip()}})
            told(reply)
