"""No verdict passes on an instrument that is too coarse for its limit, whatever the rule.

Every row that passes is tried again with each instrument as coarse as the form accepts. The bounds
here are worked out anew: half of what lies between two limits, the limit itself where nought is on
its other side (JCGM 106:2012, 8.2: an uncertainty that is small beside what is permitted).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calcs.bridge import Bridge
from calcs.engine.declarations import Instrument
from calcs.engine.findings import Compare, Ruling
from calcs.engine.judging import judge
from calcs.engine.registry import calculators
from calcs.engine.traced import Traced, si
from calcs.engine.uncertainty import contributions
from tests.calcs.engine.judged import judged
from tests.tables.every_row import every_row
from tests.tables.rows import Row, rows

RULES = ("by_verdict", "full", "iso_14253", "simple")
COARSE = ("step", "accuracy", "share")
# Rulings that pass and rest on no instrument, by calculator and reason.
NOT_READ = {
    ("co_in_room", "need_not_sound"),
    ("ventilation_compartment", "none_asked"),
    ("ventilation_flueless", "may_need_none"),
    ("ventilation_flueless", "none_needed"),
    ("ventilation_flueless", "window_opens"),
    ("ventilation_open_flued", "none_needed"),
}
# Rulings on a number that weigh its uncertainty by themselves: these pass with the share of COARSE,
# or with every one of them, because what they tell is that far off.
WEIGHED = {
    ("flue_draught", "up"),  # the pull is above nought by more than its uncertainty
    ("injector", "can_be"),
    ("tightness_test", "no_rise"),  # whatever share of no movement is no movement
    ("thermistor", "believable"),  # a reading of twice the resistance is a believable one too
}
# These pass with the share alone: one gauge is so far off at both ends of a pipe alike, and the
# difference between them still shows.
SHARED = {("cross_check", "fits")}
ROWS = [
    row
    for row in rows()
    if "refused" not in row.facts
    and any(isinstance(item, Instrument) for item in calculators()[row.calculator].inputs)
]


def coarse(item: Instrument, how: str) -> dict[str, dict[str, str]]:
    """That instrument typed in by the reader, as poor as the form lets it be."""
    step, accuracy = f"0 {item.unit}", f"0 {item.unit}"
    if how == "step":
        step = f"{item.high} {item.unit}"
    elif how == "share" and "percent" in item.also and item.unit != "percent":
        accuracy = f"{min(100.0, item.high)} percent"
    else:
        accuracy = f"{item.high} {item.unit}"
    typed = {"": "own", "_resolution": step, "_accuracy": accuracy}
    return {f"{item.name}{part}": {"value": text} for part, text in typed.items()}


def tried(row: Row) -> Iterator[tuple[str, dict[str, Any]]]:
    items = [one for one in calculators()[row.calculator].inputs if isinstance(one, Instrument)]
    for how in COARSE:
        typed = {name: text for item in items for name, text in coarse(item, how).items()}
        for rule in RULES:
            inputs = {**row.request["inputs"], **typed, "decision_rule": {"value": rule}}
            yield how, {**row.request, "inputs": inputs}


@every_row(ROWS)
def test_nothing_passes_that_the_instrument_cannot_tell(row: Row, bridge: Bridge) -> None:
    for how, request in tried(row):
        found = judged(bridge, request)
        if found is None:
            continue
        verdicts, given = found
        for one in verdicts:
            if isinstance(one, Ruling):
                exempt = NOT_READ | WEIGHED | (SHARED if how == "share" else set())
                known = (row.calculator, one.reason) in exempt
                passes = one.outcome == "meets" and not known
                assert not passes, (one, request["inputs"])
                continue
            outcome = judge(one, given)
            if outcome.outcome == "meets":
                assert_is_told(one, si(outcome.expanded_uncertainty))


def assert_is_told(one: Compare, expanded_uncertainty: float) -> None:
    """What passes is known closely enough to be told from its limit."""
    read = any(figure.uncertainty_parts is not None for figure in figures(one))
    assert expanded_uncertainty > 0 or not read, (
        f"{one.name} leaves out what its instrument does not know"
    )
    low, high = (None if limit is None else si(limit) for limit in (one.low, one.high))
    if low is not None and high is not None:
        assert expanded_uncertainty <= (high - low) / 2 * (1 + 1e-9), one
    elif high is not None:
        assert expanded_uncertainty <= abs(high), one
    elif low is not None:
        assert expanded_uncertainty <= max(abs(low) / 2, si(one.reading) - low), one


def figures(one: Compare) -> list[Traced]:
    return [
        figure
        for figure, expanded_uncertainty in contributions(one.reading)
        if expanded_uncertainty
    ]
