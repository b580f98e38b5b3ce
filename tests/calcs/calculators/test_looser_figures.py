"""No figure of a reader's own turns a fail into a pass: a looser one is refused.

Every verdict of a row that fails is asked again with each figure that it rests on made larger and
smaller, as far as an edition may differ from the next.
"""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from calcs.bridge import Bridge
from calcs.engine import overrides
from calcs.engine.findings import Compare
from calcs.engine.registry import calculators
from calcs.engine.units import parse_quantity, unit_code
from tests.calcs.engine.judged import judged
from tests.tables.rows import Row, rows

FARTHER = (0.55, 0.8, 1.25, 1.9)
# What a reader gives from a copy that is not held here, and may find larger in it.
OF_THEIR_OWN = {"permissible_drop_natural_gas", "permissible_drop_by_meter"}


def test_no_looser_figure_passes_what_fails(bridge: Bridge) -> None:
    passed: dict[str, set[str]] = defaultdict(set)
    asked = 0
    for row in rows():
        for verdict, figure in failing(bridge, row):
            for text in farther(bridge, figure):
                own = {**row.request["overrides"], figure: text}
                reply = bridge.reply({**row.request, "overrides": own})
                asked += 1
                for one in reply.get("answer", {}).get("verdicts", ()):
                    if (one["name"], one["outcome"]) == (verdict, "meets"):
                        passed[figure].add(f"{row.id} {verdict} {text}")
    assert asked > 500
    assert dict(passed) == {}


def failing(bridge: Bridge, row: Row) -> list[tuple[str, str]]:
    """The verdicts that a row fails by a number, each with the figures that it rests on."""
    found = judged(bridge, row.request) if "does_not_meet" in str(row.facts) else None
    if found is None:
        return []
    outcomes = {one["name"]: one["outcome"] for one in verdicts(bridge.reply(row.request))}
    declared = overrides.used_by(calculators()[row.calculator])
    return [
        (one.name, name)
        for one in found[0]
        if isinstance(one, Compare) and outcomes.get(one.name) == "does_not_meet"
        for name in one.figures
        if declared.fullmatch(name) and name not in {*OF_THEIR_OWN, *row.request["overrides"]}
    ]


def verdicts(reply: dict[str, Any]) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = reply.get("answer", {}).get("verdicts", [])
    return found


def farther(bridge: Bridge, figure: str) -> list[str]:
    """Figures in place of one that is held."""
    held = [one.value for one in bridge.reference.history(figure) if one.value]
    if not held:
        return []
    value = parse_quantity(held[-1])
    unit = unit_code(value.units)
    return [f"{float(value.magnitude) * times:.6g} {unit}".strip() for times in FARTHER]
