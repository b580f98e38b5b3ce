"""What a flue gas sample says: of its fuel, of air that leaked in, and the line of its fuel."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.core import Cell, Finding, Note, Ruling, Table
from calcs.reference import InForce
from calcs.traced import si
from calcs.uncertainty import expanded
from calcs.units import Q, join_unit, round_half_up

DIOXIDE_INSTRUCTIONS = "combustion.carbon_dioxide_instructions"


def fuel_findings(answers: Mapping[str, Q]) -> list[Finding]:
    """Whether oxygen and carbon dioxide fit the fuel, within the doubt of both."""
    difference = answers["oxygen_difference"]
    wide = expanded(difference)
    values = {
        "difference": _percent(abs(si(difference))),
        "wide": _percent(si(wide)),
        "maximum": _percent(si(answers["implied_maximum"])),
    }
    fits = abs(si(difference)) <= si(wide)
    reason = "fits" if fits else "too_much" if difference.magnitude > 0 else "too_little"
    verdict = Ruling("fuel", "meets" if fits else "does_not_meet", reason, (), values)
    return [verdict, Note("same_line")]


def dilution_finding(leaked: Q) -> Ruling:
    """Whether the sample has the carbon dioxide that the instructions give, within its doubt."""
    wide = expanded(leaked)
    share, doubt = si(leaked), si(wide)
    values = {"share": _percent(abs(share)), "wide": _percent(doubt)}
    inside = abs(share) <= doubt
    reason = "as_set" if inside else "diluted" if share > 0 else "short_of_air"
    outcome = "meets" if inside else "does_not_meet"
    return Ruling("dilution", outcome, reason, (DIOXIDE_INSTRUCTIONS,), values)


def _percent(share: float) -> str:
    return join_unit(round_half_up(100 * share, 1), "percent")


def line_of_fuel(answers: Mapping[str, Q], ref: InForce) -> Table:
    """Oxygen and carbon dioxide of the fuel from no spare air to three times the air needed."""
    need, dry = si(answers["air_need"]), si(answers["dry_products"])
    most, air = si(answers["carbon_dioxide_max"]), si(ref["combustion.air_oxygen_dry"])
    rows: list[Mapping[str, Cell]] = []
    for step in range(0, 21, 2):
        spare = step / 10 * need
        rows.append(
            {
                "line_air_ratio": 1 + step / 10,
                "line_oxygen": 100 * air * spare / (dry + spare),
                "line_carbon_dioxide": 100 * most * dry / (dry + spare),
            }
        )
    return Table("line", tuple(rows))
