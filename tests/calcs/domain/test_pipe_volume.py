"""What holds of volumes and leaks whatever the numbers."""

from __future__ import annotations

import json
import math
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcs.bridge import Bridge
from calcs.domain.pipes.pipe_catalogue import bores
from calcs.engine.in_force import InForce
from calcs.engine.reference import Reference
from tests.tables.rows import TODAY

SETTINGS = settings(max_examples=25, deadline=None, derandomize=True)
SIZES = ("15 mm", "22 mm", "28 mm", "35 mm")
QUIET = {"smell_of_gas": "no", "pipework": "existing", "appliances": "connected"}
# Falls are drawn at random: a gauge that shows each of them.
FINE = {"gauge": "own", "gauge_resolution": "1e-9 mbar", "gauge_accuracy": "0 mbar"}
more = st.floats(1.01, 3)


def ask(bridge: Bridge, calculator: str, typed: dict[str, Any]) -> dict[str, float]:
    inputs = {
        name: {"rows": [{key: {"value": cell} for key, cell in row.items()} for row in value]}
        if isinstance(value, list)
        else {"value": value}
        for name, value in typed.items()
    }
    request = {"action": "run", "calculator": calculator, "today": TODAY, "inputs": inputs}
    reply = json.loads(bridge.answer(json.dumps(request)))
    return {one["name"]: one["value"] for one in reply["answer"]["answers"]}


def leak(bridge: Bridge, *, volume: float, fall: float, minutes: float) -> dict[str, float]:
    readings = {
        "installation_volume": f"{volume!r} m³",
        "test_start": "20.5 mbar",
        "test_end": f"{20.5 - fall!r} mbar",
        "elapsed": f"{minutes!r} min",
    }
    return ask(bridge, "tightness_test", QUIET | FINE | readings)


@SETTINGS
@given(size=st.sampled_from(SIZES), metres=st.floats(0.1, 100), more=more)
def test_more_pipe_holds_more_in_proportion(bridge, size, metres, more):
    found = [
        ask(
            bridge,
            "installation_volume",
            {"sections": [{"size": size, "length": f"{length!r} m"}]},
        )["installation_volume"]
        for length in (metres, metres * more)
    ]
    assert math.isclose(found[1] / found[0], more, rel_tol=1e-9)


@SETTINGS
@given(sizes=st.lists(st.sampled_from(SIZES), min_size=2, max_size=8))
def test_the_order_of_the_pipes_does_not_matter(bridge, sizes):
    rows = [{"size": size, "length": f"{place + 1} m"} for place, size in enumerate(sizes)]
    one, other = (
        ask(bridge, "installation_volume", {"sections": order})["installation_volume"]
        for order in (rows, rows[::-1])
    )
    assert math.isclose(one, other, rel_tol=1e-12)


@SETTINGS
@given(volume=st.floats(0.001, 0.03), fall=st.floats(0.1, 5), minutes=st.floats(1, 10), more=more)
def test_a_leak_goes_with_volume_and_fall_and_against_time(bridge, volume, fall, minutes, more):
    before = leak(bridge, volume=volume, fall=fall, minutes=minutes)["leak_rate"]
    larger = leak(bridge, volume=volume * more, fall=fall, minutes=minutes)["leak_rate"]
    longer = leak(bridge, volume=volume, fall=fall, minutes=minutes * more)["leak_rate"]
    deeper = leak(bridge, volume=volume, fall=fall * more, minutes=minutes)["leak_rate"]
    assert math.isclose(larger, before * more, rel_tol=1e-9)
    assert math.isclose(longer, before / more, rel_tol=1e-9)
    assert math.isclose(deeper, before * more, rel_tol=1e-9)


@SETTINGS
@given(fall=st.floats(0.1, 5))
def test_the_cooling_gives_the_fall_back(bridge, fall):
    """Gay-Lussac: in a closed volume the absolute pressure goes with the absolute temperature."""
    change = leak(bridge, volume=0.01, fall=fall, minutes=2)["temperature_change"]
    warm, pressure = 288.15, 1013.25 + 20.5
    assert math.isclose(pressure - pressure * (warm - change) / warm, fall, rel_tol=1e-9)


@pytest.mark.parametrize(
    ("material", "size", "half_width"),
    [
        # EN 1057: 15 ± 0.04 mm, walls of 0.7 mm ± 10 %.
        ("copper", 15, math.hypot(0.04, 2 * 0.07)),
        # EN 10255, from memory: 33.3 to 34.2 mm for 33.7, walls of 3.2 mm ± 12.5 %.
        ("steel", 25, math.hypot(0.5, 2 * 0.4)),
        # EN 1555-2, from memory: 32.0 to 32.3 mm, walls of 3.0 to 3.4 mm.
        ("polyethylene", 32, math.hypot(0.3, 2 * 0.4)),
    ],
)
def test_a_bore_is_as_uncertain_as_its_standard_lets_it_be(bundle_text, material, size, half_width):
    """Rectangular, as JCGM 100, 4.3.7 has it for bounds: the half-width over the root of three."""
    in_force = InForce(Reference(json.loads(bundle_text)), date.fromisoformat(TODAY))
    _, uncertainty = bores(material, in_force)[size]
    assert uncertainty * 1000 == pytest.approx(half_width / math.sqrt(3), rel=1e-9)
