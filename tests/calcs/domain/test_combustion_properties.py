"""What holds for gas, combustion and flues whatever is typed: directions, limits, ways back."""

from __future__ import annotations

import json
import math
from typing import Any

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from calcs.bridge import Bridge
from tests.tables.rows import TODAY

SETTINGS = settings(
    max_examples=15,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
    derandomize=True,
)
FUELS = st.sampled_from(["natural_gas", "propane", "butane", "G20", "G222", "G25"])


def answered(bridge: Bridge, calculator: str, **typed: Any) -> dict[str, Any]:
    inputs = {
        name: {"rows": value} if isinstance(value, list) else {"value": value}
        for name, value in typed.items()
    }
    request = {"action": "run", "calculator": calculator, "today": TODAY, "inputs": inputs}
    reply = json.loads(bridge.answer(json.dumps(request)))
    assert "answer" in reply, reply
    found: dict[str, Any] = reply["answer"]
    return found


def answers(bridge: Bridge, calculator: str, **typed: Any) -> dict[str, float]:
    found = answered(bridge, calculator, **typed)
    return {one["name"]: one["value"] for one in found["answers"]}


@SETTINGS
@given(bore=st.floats(0.4, 5), pressure=st.floats(1, 60), gas=st.sampled_from(["G20", "propane"]))
def test_bore_to_heat_and_back(bridge, bore, pressure, gas):
    common = {"gas": gas, "pressure": f"{pressure!r} mbar", "discharge_coefficient": "0.8"}
    there = answers(bridge, "injector", question="heat_input", diameter=f"{bore!r} mm", **common)
    heat = there["heat_input_net"]
    assume(heat >= 0.05)
    back = answers(bridge, "injector", question="diameter", heat_input=f"{heat!r} kW", **common)
    assert math.isclose(back["needed_diameter"], bore, rel_tol=1e-9)


@SETTINGS
@given(first=st.floats(5, 50), second=st.floats(5, 50))
def test_conversion_there_and_back(bridge, first, second):
    there = answers(
        bridge, "injector", question="conversion", gas="G20", new_gas="G31",
        pressure=f"{first!r} mbar", new_pressure=f"{second!r} mbar",
    )  # fmt: skip
    back = answers(
        bridge, "injector", question="conversion", gas="G31", new_gas="G20",
        pressure=f"{second!r} mbar", new_pressure=f"{first!r} mbar",
    )  # fmt: skip
    for basis in ("ratio_net", "ratio_gross"):
        assert math.isclose(there[basis] * back[basis], 1, rel_tol=1e-12)


@SETTINGS
@given(fuel=FUELS, oxygen=st.floats(0.1, 19))
def test_oxygen_to_carbon_dioxide_and_back(bridge, fuel, oxygen):
    common = {"appliance": "other", "fuel": fuel, "carbon_monoxide": "0 ppm"}
    by_oxygen = answers(bridge, "combustion", oxygen=f"{oxygen!r} %", **common)
    dioxide = by_oxygen["carbon_dioxide_exact"]
    # The last digits must not lift it above what the fuel can make.
    by_dioxide = answers(bridge, "combustion", carbon_dioxide=f"{dioxide - 1e-12!r} %", **common)
    assert math.isclose(by_oxygen["air_ratio"], by_dioxide["air_ratio"], rel_tol=1e-9)


@SETTINGS
@given(fuel=FUELS, oxygen=st.floats(0.1, 15), flue=st.floats(20, 300), more=st.floats(0.5, 50))
def test_hotter_flue_gas_carries_more_heat(bridge, fuel, oxygen, flue, more):
    common = {"fuel": fuel, "oxygen": f"{oxygen!r} %", "air_temperature": "15 °C"}
    cool, hot = (
        answers(bridge, "combustion_efficiency", flue_temperature=f"{kelvin!r} °C", **common)
        for kelvin in (flue, flue + more)
    )
    assert hot["loss_net"] > cool["loss_net"]
    assert hot["condensate"] <= cool["condensate"]
    assert cool["efficiency_gross"] < 100
    assert math.isclose(cool["dew_point"], hot["dew_point"], rel_tol=1e-12)


@SETTINGS
@given(fuel=FUELS, oxygen=st.floats(0.1, 15), place=st.integers(0, 12))
def test_the_table_of_efficiency_holds_the_answer(bridge, fuel, oxygen, place):
    common = {"fuel": fuel, "oxygen": f"{oxygen!r} %", "air_temperature": "15 °C"}
    table = answered(bridge, "combustion_efficiency", flue_temperature="90 °C", **common)["tables"]
    degrees, net, gross = (cell["value"] for cell in table[0]["rows"][place])
    found = answers(bridge, "combustion_efficiency", flue_temperature=f"{degrees!r} °C", **common)
    assert math.isclose(found["efficiency_net"], net, rel_tol=1e-12)
    assert math.isclose(found["efficiency_gross"], gross, rel_tol=1e-12)


@SETTINGS
@given(oxygen=st.floats(0.1, 15), inside=st.floats(60, 400), outside=st.floats(-20, 30))
def test_draught_goes_with_height_and_warmth(bridge, oxygen, inside, outside):
    def draught(height: float, kelvin: float) -> float:
        return answers(
            bridge,
            "flue_draught",
            oxygen=f"{oxygen!r} %",
            flue_temperature=f"{kelvin!r} °C",
            outside_temperature=f"{outside!r} °C",
            height=f"{height!r} m",
        )["draught"]

    low = draught(4, inside)
    assert math.isclose(draught(8, inside), 2 * low, rel_tol=1e-9)
    assert draught(4, inside + 10) > low


@SETTINGS
@given(methane=st.floats(50, 95), ethane=st.floats(0.1, 5), swap=st.booleans())
def test_order_and_scale_of_a_composition_do_not_matter(bridge, methane, ethane, swap):
    rest = 100 - methane - ethane
    rows = [
        {"component": {"value": name}, "share": {"value": f"{share!r} %"}}
        for name, share in (("methane", methane), ("ethane", ethane), ("nitrogen", rest))
    ]
    one = answers(bridge, "gas_properties", source="mixture", components=rows)
    other = answers(
        bridge, "gas_properties", source="mixture", components=rows[::-1] if swap else rows
    )
    for name, value in one.items():
        assert math.isclose(value, other[name], rel_tol=1e-12), name
    assert one["calorific_value_net"] < one["calorific_value_gross"]
    assert math.isclose(
        one["wobbe_gross"],
        one["calorific_value_gross"] / math.sqrt(one["relative_density"]),
        rel_tol=1e-12,
    )


@SETTINGS
@given(height=st.floats(1, 20), bends=st.integers(1, 6))
def test_each_bend_takes_from_the_equivalent_height(bridge, height, bends):
    pipe = {
        "component": {"value": "pipe"},
        "size": {"value": "round_125"},
        "length": {"value": f"{height!r} m"},
    }

    def tall(count: int) -> float:
        bend = {
            "component": {"value": "bend_45"},
            "size": {"value": "round_125"},
            "count": {"value": str(count)},
        }
        return answers(
            bridge, "equivalent_flue_height", appliance="other", height=f"{height!r} m",
            equivalent_size="round_125", parts=[pipe, bend],
        )["equivalent_height"]  # fmt: skip

    assert tall(bends + 1) < tall(bends) < height
