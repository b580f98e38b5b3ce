"""A tightness test asked of the calculator, and its verdict."""

from __future__ import annotations

import json
from typing import Any

from calcs.bridge import Bridge
from tests.tables.rows import TODAY


def ask(bridge: Bridge, overrides: dict[str, str] | None = None, **typed: str) -> dict[str, Any]:
    readings = {
        "smell_of_gas": "no",
        "pipework": "existing",
        "appliances": "connected",
        "test_start": "20.5 mbar",
        "test_end": "18.5 mbar",
        "let_by_start": "8 mbar",
        "let_by_end": "8 mbar",
        "elapsed": "2 min",
        "installation_volume": "0.0136 m³",
    }
    inputs = {name: {"value": value} for name, value in (readings | typed).items()}
    request = {
        "action": "run",
        "calculator": "tightness_test",
        "today": TODAY,
        "inputs": inputs,
        "overrides": overrides or {},
    }
    reply: dict[str, Any] = json.loads(bridge.answer(json.dumps(request)))
    return reply


def verdict(reply: dict[str, Any]) -> dict[str, Any]:
    found = {one["name"]: one for one in reply["answer"]["verdicts"]}
    return found["tightness"]
