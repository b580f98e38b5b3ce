"""What a calculator looks up it declares in `uses`: only so can a reader give their own figure."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

import pytest

from calcs.bridge import Bridge
from calcs.engine import answer, overrides
from calcs.engine.in_force import InForce
from calcs.engine.registry import calculators
from tests.tables.rows import rows

# The decision rule belongs to every verdict, and no reader has a figure of it.
OF_EVERY_VERDICT = "decision."


def test_every_figure_that_is_looked_up_is_declared(
    bridge: Bridge, monkeypatch: pytest.MonkeyPatch
):
    asked: list[InForce] = []

    class Noted(InForce):
        def __init__(self, *facts: Any) -> None:
            super().__init__(*facts)
            asked.append(self)

    monkeypatch.setattr(answer, "InForce", Noted)
    undeclared: dict[str, set[str]] = defaultdict(set)
    looked_up = 0
    for row in rows():
        asked.clear()
        bridge.reply(row.request)
        declared = overrides.used_by(calculators()[row.calculator])
        for name in (name for one in asked for name in one.used):
            looked_up += 1
            if not (declared.fullmatch(name) or name.startswith(OF_EVERY_VERDICT)):
                undeclared[row.calculator].add(name)
    assert looked_up > len(calculators())
    assert dict(undeclared) == {}
