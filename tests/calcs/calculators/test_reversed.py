"""An answer asked back returns what it came from. Gas rate, injector and sample: in their files."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calcs.bridge import Bridge
from tests.tables.rows import TODAY

SETTINGS = settings(
    max_examples=30,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
TABLE = [
    {"temperature": {"value": "0 °C"}, "resistance": {"value": "32660"}},
    {"temperature": {"value": "25 °C"}, "resistance": {"value": "10000"}},
    {"temperature": {"value": "90 °C"}, "resistance": {"value": "920"}},
]


def ask(bridge: Bridge, calculator: str, **typed: Any) -> dict[str, float]:
    """Answers by name."""
    inputs = {
        name: {"rows": value} if isinstance(value, list) else {"value": value}
        for name, value in typed.items()
    }
    request = {"action": "run", "calculator": calculator, "today": TODAY, "inputs": inputs}
    answer = json.loads(bridge.answer(json.dumps(request)))["answer"]
    return {one["name"]: float(one["value"]) for one in answer["answers"]}


@pytest.mark.parametrize("way", ["sensor", "table"])
@SETTINGS
@given(degrees=st.floats(1, 89), beta=st.floats(3000, 4500))
def test_a_sensor_there_and_back(bridge, way, degrees, beta):
    common = {"beta": f"{beta!r} K", "nominal_resistance": "10 kohm", "maker_table": TABLE}
    there = ask(
        bridge, "thermistor", question="resistance", temperature=f"{degrees!r} °C", **common
    )
    ohms = f"{there[f'{way}_resistance']!r} ohm"
    back = ask(bridge, "thermistor", resistance=ohms, **common)
    assert math.isclose(back[f"{way}_temperature"], degrees, abs_tol=1e-6)


@SETTINGS
@given(kilowatts=st.floats(1, 40), flow=st.floats(45, 85), drop=st.floats(5, 30))
def test_a_heating_circuit_there_and_back(bridge, kilowatts, flow, drop):
    temperatures = {
        "flow_temperature": f"{flow!r} °C",
        "return_temperature": f"{flow - drop!r} °C",
    }
    there = ask(bridge, "heating_flow", heat_output=f"{kilowatts!r} kW", **temperatures)
    back = ask(
        bridge,
        "heating_flow",
        question="output",
        water_flow=f"{there['circuit_flow']!r} litre/min",
        **temperatures,
    )
    assert math.isclose(back["circuit_output"], kilowatts, rel_tol=1e-9)


@SETTINGS
@given(
    size=st.sampled_from(["15 mm", "22 mm", "28 mm", "35 mm"]),
    metres=st.floats(1, 40),
    limit=st.floats(0.3, 3),
)
def test_the_flow_at_the_limit_loses_the_limit(bridge, size, metres, limit):
    def lost(kilowatts: float) -> dict[str, float]:
        row = {"size": size, "length": f"{metres!r} m", "load": f"{kilowatts!r} kW"}
        sections = [{name: {"value": value} for name, value in row.items()}]
        given_too = {"permitted_loss": f"{limit!r} mbar", "calorific_value": "36 MJ/m³"}
        return ask(bridge, "pipe_pressure_loss", sections=sections, **given_too)

    first = lost(10.0)  # 10 kW at 36 MJ/m³ is one cubic metre an hour
    back = lost(10 * first["flow_at_limit"])
    if not math.isclose(back["worst_loss"], limit, rel_tol=1e-6):
        # Where smooth flow turns turbulent the loss jumps over the limit: the lower flow is given.
        more = lost(10 * first["flow_at_limit"] * 1.001)
        assert back["worst_loss"] < limit < more["worst_loss"]
