"""The working: what was typed stands in it as the instrument showed it."""

from __future__ import annotations

import pytest

from calcs.bridge import Bridge

TWO_DECIMALS = {"gauge": {"value": "digital_gauge_2dp"}}


@pytest.mark.parametrize(
    ("meter", "inlet", "expected"),
    [
        # 20.10 was read on a gauge with two decimals, and 20.1 may not have been.
        ("20.60 mbar", "20.10 mbar", "20.60 mbar − 20.10 mbar"),
        ("20.6 mbar", "20.1 mbar", "20.6 mbar − 20.1 mbar"),
        ("21.0 mbar", "20 mbar", "21.0 mbar − 20 mbar"),
        ("2.060 kPa", "20.10 mbar", "2.060 kPa − 20.10 mbar"),
        # No instrument shows more than a few, and nobody reads on.
        ("20.6000000000000 mbar", "20.1 mbar", "20.600000000 mbar − 20.1 mbar"),
    ],
)
def test_the_digits_typed_stay(bridge: Bridge, meter: str, inlet: str, expected: str):
    typed = {"meter_working": {"value": meter}, "inlet_working": {"value": inlet}}
    request = {
        "calculator": "working_pressure",
        "today": "2026-11-28",
        "inputs": {**typed, **TWO_DECIMALS},
    }
    [loss] = [
        step
        for step in bridge.reply(request)["answer"]["working"]
        if step["name"] == "pressure_loss"
    ]
    assert loss["numbers"].replace("\N{NO-BREAK SPACE}", " ") == expected
