"""Flue gas samples made by hand: what can be true is judged, what contradicts itself never is.

The gas burns atom by atom in air of 20.946 % oxygen (ISO 6976: 0.20946), in arithmetic of this file
alone. The analyser is the one offered: 0.3 % of the flue gas either way, in steps of 0.1 %.
"""

from __future__ import annotations

import json
import math
from itertools import product
from typing import Any

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from calcs.bridge import Bridge
from tests.every_case import every_case
from tests.tables.rows import TODAY

SETTINGS = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
    derandomize=True,
)
AIR = 0.20946
# Carbon and hydrogen of a molecule. Natural gas may be pure methane: its uncertainty reaches that
# far.
ATOMS = {
    "G20": (1, 4),
    "natural_gas": (1, 4),
    "propane": (3, 8),
    "G31": (3, 8),
    "butane": (4, 10),
    "G30": (4, 10),
}
FUELS = st.sampled_from(list(ATOMS))
AIR_RATIOS = st.floats(1.02, 3)
# Rectangular half-widths over √3 and √12 (JCGM 100, 4.3.7).
READING = math.sqrt(0.3**2 / 3 + 0.1**2 / 12)


def burnt(fuel: str, air_ratio: float, unburnt: float = 0.0) -> tuple[float, float, float]:
    """Oxygen and carbon dioxide in percent and carbon monoxide in ppm, of the dry flue gas.

    Args:
        fuel: Gas that burns.
        air_ratio: Air over the air needed.
        unburnt: Share of the carbon that stays carbon monoxide.
    """
    carbon, hydrogen = ATOMS[fuel]
    need = carbon + hydrogen / 4
    air = air_ratio * need / AIR
    oxygen = air * AIR - need + unburnt * carbon / 2
    dry = carbon + oxygen + air * (1 - AIR)
    dioxide, monoxide = (1 - unburnt) * carbon, unburnt * carbon
    return 100 * oxygen / dry, 100 * dioxide / dry, 1e6 * monoxide / dry


def reply(bridge: Bridge, calculator: str, **typed: str) -> dict[str, Any]:
    inputs = {name: {"value": value} for name, value in typed.items()}
    request = {"action": "run", "calculator": calculator, "today": TODAY, "inputs": inputs}
    found: dict[str, Any] = json.loads(bridge.answer(json.dumps(request)))
    return found


def verdicts(bridge: Bridge, **typed: str) -> dict[str, str]:
    found = reply(bridge, "combustion", **typed)
    assert "answer" in found, found
    return {one["name"]: one["outcome"] for one in found["answer"]["verdicts"]}


@SETTINGS
@given(fuel=FUELS, air_ratio=AIR_RATIOS, unburnt=st.floats(0, 0.02))
def test_a_true_sample_is_judged_and_rightly(bridge, fuel, air_ratio, unburnt):
    oxygen, dioxide, monoxide = burnt(fuel, air_ratio, unburnt)
    readings = round(oxygen, 1), round(dioxide, 1), round(monoxide)
    found = verdicts(
        bridge,
        appliance="condensing_boiler",
        fuel=fuel,
        oxygen=f"{readings[0]} %",
        carbon_dioxide=f"{readings[1]} %",
        carbon_monoxide=f"{readings[2]} ppm",
        decision_rule="simple",
    )
    # Technical Bulletin 143: at most 0.0040 and 350 ppm.
    ratio = readings[2] / (readings[1] * 10000)
    assert found == {
        "fuel": "meets",
        "ratio": "meets" if ratio <= 0.0040 else "does_not_meet",
        "carbon_monoxide": "meets" if readings[2] <= 350 else "does_not_meet",
    }


@SETTINGS
@given(
    fuel=st.sampled_from(["G20", "G31", "G30"]),
    air_ratio=AIR_RATIOS,
    beyond=st.floats(0.01, 8),
    up=st.booleans(),
    monoxide=st.sampled_from([0, 60, 349, 900, 5000]),
)
def test_a_sample_off_the_line_by_more_than_its_uncertainty_judges_nothing(
    bridge, fuel, air_ratio, beyond, up, monoxide
):
    oxygen, dioxide, _ = burnt(fuel, air_ratio)
    most = burnt(fuel, 1.0)[1]
    # Both readings' uncertainty, in carbon dioxide, and what that much monoxide could stand for.
    uncertainty = 2 * READING * math.sqrt(1 + (most / (100 * AIR)) ** 2)
    uncertainty += 0.05 + 2 * monoxide / 1e4
    wrong = dioxide + (uncertainty + beyond if up else -uncertainty - beyond)
    assume(0 <= wrong <= 20)
    sample = {"fuel": fuel, "oxygen": f"{oxygen!r} %", "carbon_dioxide": f"{wrong!r} %"}
    assume(wrong >= 0.1 and oxygen >= 0.1)
    found = verdicts(
        bridge, appliance="condensing_boiler", carbon_monoxide=f"{monoxide} ppm",
        carbon_dioxide_expected="9 %", **sample,
    )  # fmt: skip
    assert found == {
        "fuel": "does_not_meet",
        "ratio": "not_judged",
        "carbon_monoxide": "not_judged",
        "dilution": "not_judged",
    }
    warm = {"flue_temperature": "80 °C", "air_temperature": "15 °C"}
    assert "refused" in reply(bridge, "combustion_efficiency", **sample, **warm)
    cold = {"flue_temperature": "80 °C", "outside_temperature": "5 °C", "height": "5 m"}
    assert "refused" in reply(bridge, "flue_draught", **sample, **cold)


@SETTINGS
@given(fuel=FUELS, air_ratio=AIR_RATIOS)
def test_a_sample_that_is_put_in_the_wrong_fields_judges_nothing(bridge, fuel, air_ratio):
    oxygen, dioxide, _ = burnt(fuel, air_ratio)
    # Where the two cross, a swap can't be seen.
    assume(abs(oxygen - dioxide) > 2)
    assume(min(oxygen, dioxide) >= 0.1)
    found = verdicts(
        bridge, appliance="boiler", fuel=fuel, carbon_monoxide="20 ppm",
        oxygen=f"{dioxide!r} %", carbon_dioxide=f"{oxygen!r} %",
    )  # fmt: skip
    assert found == {
        "fuel": "does_not_meet",
        "ratio": "not_judged",
        "ratio_investigate": "not_judged",
    }


@every_case(
    ("oxygen", "monoxide", "appliance"),
    product(
        ["20.6 %", "20.7 %", "20.8 %", "20.9 %", "21 %"],
        ["0 ppm", "200 ppm", "40000 ppm"],
        ["condensing_boiler", "boiler", "gas_fire", "other"],
    ),
)
def test_air_passes_and_proves_nothing(bridge, oxygen, monoxide, appliance):
    found = reply(
        bridge, "combustion", appliance=appliance, oxygen=oxygen, carbon_monoxide=monoxide
    )
    if "refused" in found:
        stop = "Stop and look" in found["refused"][0]["message"]
        assert stop == (monoxide != "0 ppm")
        return
    said = found["answer"]["verdicts"]
    assert {one["outcome"] for one in said} == {"not_judged"}
    if monoxide != "0 ppm":
        assert all("Stop: turn the appliance off" in one["text"] for one in said), said


@SETTINGS
@given(fuel=FUELS, air_ratio=AIR_RATIOS, flue=st.floats(20, 200))
def test_no_efficiency_from_a_true_sample_is_absurd(bridge, fuel, air_ratio, flue):
    oxygen, dioxide, _ = burnt(fuel, air_ratio)
    found = reply(
        bridge, "combustion_efficiency", fuel=fuel, oxygen=f"{round(oxygen, 1)} %",
        carbon_dioxide=f"{round(dioxide, 1)} %", flue_temperature=f"{flue!r} °C",
        air_temperature="15 °C",
    )  # fmt: skip
    values = {one["name"]: one["value"] for one in found["answer"]["answers"]}
    # Gross over net is 1.11 for methane and less for the others.
    assert 70 < values["efficiency_net"] < 111
    assert abs(values["efficiency_gross_rule"] - values["efficiency_gross"]) < 15


@SETTINGS
@given(
    fuel=FUELS,
    air_ratio=st.floats(1.1, 1.7),
    off=st.sampled_from([-0.4, -0.21, -0.1, 0.0, 0.1, 0.21, 0.4]),
    end=st.sampled_from(["found_max", "found_min", "left_max", "left_min"]),
    by_oxygen=st.booleans(),
)
def test_a_premix_end_meets_its_target_within_the_tolerance_alone(
    bridge, fuel, air_ratio, off, end, by_oxygen
):
    oxygen, dioxide, _ = burnt(fuel, air_ratio)
    reading = oxygen if by_oxygen else dioxide
    found = reply(
        bridge, "gas_air_ratio", appliance="condensing_boiler", fuel=fuel,
        target_gas="oxygen" if by_oxygen else "carbon_dioxide", tolerance="0.2 %",
        **{
            f"target_{end.partition('_')[2]}": f"{reading - off!r} %",
            f"dioxide_{end}": f"{dioxide!r} %",
            f"monoxide_{end}": "40 ppm",
            **({f"oxygen_{end}": f"{oxygen!r} %"} if by_oxygen else {}),
        },
    )  # fmt: skip
    other = end[:-3] + ("min" if end.endswith("max") else "max")
    assert {one["name"]: one["outcome"] for one in found["answer"]["verdicts"]} == {
        f"target_{end}": "meets" if abs(off) < 0.2 else "does_not_meet",
        f"ratio_{end}": "meets",
        f"carbon_monoxide_{end}": "meets",
        f"target_{other}": "not_judged",
    }
