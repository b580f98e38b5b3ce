"""What the steps say of drawn visits, of each kind of appliance: worked out by hand-like formulas.

The same visits are walked in a browser: `tests/offline/test_walked_visits.py`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.drawn import back_boiler, premix, water_heater
from tests.drawn.visit import OUTSIDE, TOO_CLOSE, WITHIN, Drawn, is_on
from tests.steps.outcome_rows import _cell
from tests.tables.rows import TODAY

SEEDS = range(8)
KINDS = (premix.draw, back_boiler.draw, water_heater.draw)


def lines(bridge: Any, visit: Drawn) -> dict[str, dict[str, Any]]:
    """Each line that says something, of the pages of the visit."""
    reply = bridge.reply(
        {
            "action": "outcomes",
            "today": TODAY,
            "readings": {name: _cell(text) for name, text in visit.readings.items()},
            "answers": visit.answers,
            "own": visit.own,
            "steps": [step for step in bridge.reference.steps if is_on(step, visit.pages)],
        }
    )
    return {step: line for step, line in reply["outcomes"].items() if line["state"] != "waiting"}


@pytest.mark.parametrize("draw", KINDS, ids=lambda draw: draw.__module__.rpartition(".")[2])
def test_each_step_says_what_was_drawn(bridge, draw: Callable[[int], Drawn]):
    for seed in SEEDS:
        visit = draw(seed)
        found = lines(bridge, visit)
        states = {step: line["state"] for step, line in found.items()}
        assert states == visit.states, f"seed {seed}"
        for step, words in visit.told.items():
            text = found[step]["text"].replace("\N{NO-BREAK SPACE}", " ")
            assert words in text, (seed, step)


def test_the_draws_reach_either_side_of_the_limits():
    """A judge that says one thing of all would fail."""
    for draw in KINDS:
        states = {state for seed in SEEDS for state in draw(seed).states.values()}
        assert states == {WITHIN, OUTSIDE, TOO_CLOSE}, draw


def test_the_same_seed_draws_the_same_visit():
    for draw in KINDS:
        assert draw(3) == draw(3)
        assert draw(3).readings != draw(4).readings
