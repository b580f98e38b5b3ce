"""What holds for series of readings, vents and units, whatever the figures."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calcs.bridge import Bridge
from calcs.calculators.unit_converter import UNITS
from calcs.domain.air.air_readings import mean_between, rate_of_fall, worst_mean, worst_start
from tests.tables.rows import TODAY

SETTINGS = settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
GAPS = st.lists(st.floats(0.5, 60), min_size=1, max_size=12)


def answers(bridge: Bridge, calculator: str, **typed: Any) -> dict[str, Any]:
    inputs = {
        name: {"rows": value} if isinstance(value, list) else {"value": value}
        for name, value in typed.items()
    }
    request = {"action": "run", "calculator": calculator, "today": TODAY, "inputs": inputs}
    reply = json.loads(bridge.answer(json.dumps(request)))
    return {one["name"]: one for one in reply["answer"]["answers"]}


@SETTINGS
@given(gaps=GAPS, data=st.data())
def test_no_stretch_has_a_higher_mean_than_the_worst_one(gaps, data):
    times = [sum(gaps[:place]) for place in range(len(gaps) + 1)]
    values = data.draw(st.lists(st.floats(0, 500), min_size=len(times), max_size=len(times)))
    period = data.draw(st.floats(0.1, 1)) * times[-1]
    start = worst_start(times, values, period)
    assert start is not None
    worst = worst_mean(times, values, start, period)
    for share in data.draw(st.lists(st.floats(0, 1), min_size=5, max_size=5)):
        other = share * (times[-1] - period)
        there = mean_between(times, values, other, min(other + period, times[-1]))
        assert there <= worst + 1e-6 * (1 + worst)


@SETTINGS
@given(gaps=st.lists(st.floats(0.5, 60), min_size=2, max_size=12), rate=st.floats(0.001, 0.05))
def test_a_fall_by_one_rate_gives_that_rate(gaps, rate):
    times = [sum(gaps[:place]) for place in range(len(gaps) + 1)]
    values = [300 * math.exp(-rate * time) for time in times]
    assert math.isclose(rate_of_fall(times, values), rate, rel_tol=1e-6)


@SETTINGS
@given(kind=st.sampled_from(sorted(UNITS)), figure=st.floats(0.1, 900), data=st.data())
def test_a_figure_comes_back_from_every_unit(bridge, kind, figure, data):
    first, *_ = UNITS[kind].values()
    name, unit = data.draw(st.sampled_from(sorted(UNITS[kind].items())))
    there = answers(bridge, "unit_converter", kind=kind, **{kind: f"{figure!r} {first}"})
    text = f"{there[f'{kind}_{name}']['value']!r} {unit}"
    back = answers(bridge, "unit_converter", kind=kind, **{kind: text})
    found = back[f"{kind}_{next(iter(UNITS[kind]))}"]["value"]
    assert math.isclose(found, figure, rel_tol=1e-9, abs_tol=1e-9)


@pytest.mark.parametrize(
    ("calculator", "given_too"),
    [
        ("ventilation_compartment", {"flue": "open_flued"}),
        ("ventilation_compartment", {"flue": "room_sealed", "air_from": "outside"}),
    ],
)
@SETTINGS
@given(heat=st.floats(0.5, 60), more=st.floats(1.001, 1.1))
def test_more_heat_needs_no_smaller_vents(bridge, calculator, given_too, heat, more):
    less, larger = (
        answers(
            bridge, calculator, appliances=[{"heat_input_net": {"value": repr(one)}}], **given_too
        )
        for one in (heat, heat * more)
    )
    for vent in ("area_high", "area_low"):
        assert larger[vent]["value"] > less[vent]["value"]


@SETTINGS
@given(
    heat=st.floats(0.5, 20), more=st.floats(0.01, 20), space=st.sampled_from(["room", "internal"])
)
def test_a_larger_heater_needs_no_smaller_vent_or_room(bridge, heat, more, space):
    common = {
        "kind": "space_heater",
        "space": space,
        "window": "yes",
        "room_volume": "80 m³",
        "room_use": "living",
    }
    less, larger = (
        answers(bridge, "ventilation_flueless", heat_input_net=repr(one), **common)
        for one in (heat, heat + more)
    )
    assert larger["area_needed"]["value"] >= less["area_needed"]["value"]
    assert larger["smallest_room"]["value"] > less["smallest_room"]["value"]


@SETTINGS
@given(volume=st.floats(0.5, 40), more=st.floats(0.01, 20))
def test_a_larger_kitchen_needs_no_larger_vent(bridge, volume, more):
    common = {"kind": "cooker", "window": "yes", "room_use": "living"}
    small, large = (
        answers(bridge, "ventilation_flueless", room_volume=repr(one), **common)
        for one in (volume, volume + more)
    )
    assert large["area_needed"]["value"] <= small["area_needed"]["value"]
