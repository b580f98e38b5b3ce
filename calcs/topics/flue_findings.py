"""What a flue gas sample says: of its fuel, of air that leaked in, and the line of its fuel."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.core import Cell, Compare, Finding, Note, Ruling, Table
from calcs.reference import InForce
from calcs.traced import si
from calcs.uncertainty import expanded
from calcs.units import Q, join_unit, round_half_up

KIND = {
    "condensing_boiler": "condensing",
    "boiler": "non_condensing",
    # The source of the boilers' ratio names boilers and combination boilers alone.
    **dict.fromkeys(("water_heater", "gas_fire", "cooker", "other"), ""),
}
RATIOS = ("ratio", "ratio_investigate", "type_test")
BY_SAMPLE = (*RATIOS, "carbon_monoxide")
TYPE_TESTED = ("gas_fire", "cooker")
MONOXIDE = "combustion.carbon_monoxide_high.condensing"
INVESTIGATE = "combustion.ratio_investigate.non_condensing"
SERVICE = "combustion.ratio_service.non_condensing"
TYPE_TEST = "combustion.ratio_type_test"
RATIO_INSTRUCTIONS = "combustion.ratio_instructions"
MONOXIDE_INSTRUCTIONS = "combustion.carbon_monoxide_instructions"
DIOXIDE_INSTRUCTIONS = "combustion.carbon_dioxide_instructions"
LEVELS = (
    "combustion.ratio_high.*",
    MONOXIDE,
    INVESTIGATE,
    SERVICE,
    TYPE_TEST,
    RATIO_INSTRUCTIONS,
    MONOXIDE_INSTRUCTIONS,
    DIOXIDE_INSTRUCTIONS,
)


def level_findings(
    given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce
) -> list[Finding]:
    """Instructions before action levels; where neither is held, nothing is judged."""
    ratio, kind = answers["ratio"], KIND[given["appliance"]]
    findings: list[Finding] = []
    if given["ratio_limit"] is not None:
        findings.append(_at_most("ratio", ratio, given["ratio_limit"], (RATIO_INSTRUCTIONS,)))
    elif kind:
        name = f"combustion.ratio_high.{kind}"
        findings.append(_at_most("ratio", ratio, ref[name], (name,)))
    else:
        findings.append(Ruling("ratio", "not_judged", "no_level", (RATIO_INSTRUCTIONS,)))
    if kind == "non_condensing":
        findings.append(
            _at_most("ratio_investigate", ratio, ref[INVESTIGATE], (INVESTIGATE, SERVICE))
        )
    if given["appliance"] in TYPE_TESTED:
        findings.append(_at_most("type_test", ratio, ref[TYPE_TEST], (TYPE_TEST,)))
    limit, records = given["carbon_monoxide_limit"], (MONOXIDE_INSTRUCTIONS,)
    if limit is None and kind == "condensing":
        limit, records = ref[MONOXIDE], (MONOXIDE,)
    if limit is not None:
        reading = given["carbon_monoxide"]
        findings.append(Compare("carbon_monoxide", reading, None, limit, records, "ppm", 0))
    return findings


def _at_most(name: str, ratio: Q, limit: Q, records: tuple[str, ...]) -> Compare:
    return Compare(name, ratio, None, limit, records, "", 4)


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


def misfits(fit: list[Finding]) -> bool:
    """Whether oxygen and carbon dioxide were found not to fit the fuel."""
    return any(isinstance(one, Ruling) and one.reason.startswith("too_") for one in fit)


def held_back(levels: list[Finding], names: tuple[str, ...], reason: str) -> list[Finding]:
    """The levels of those names where the sample is no ground to pass one. What fails still fails.

    Args:
        levels: The findings on the levels.
        names: Those that are not to pass.
        reason: Id of the words that say why.
    """
    return [
        Ruling(one.name, "not_judged", reason, one.records)
        if isinstance(one, Compare) and one.name in names and si(one.reading) <= si(one.high)
        else one
        for one in levels
    ]


def is_air(carbon_dioxide: Q) -> bool:
    """Whether the carbon dioxide can't be told from none: what was sampled may be air alone."""
    return si(carbon_dioxide) <= si(expanded(carbon_dioxide))


def spare_air_notes(answers: Mapping[str, Q]) -> list[Finding]:
    """A note where most of the dry sample is air that burned nothing."""
    spare = (si(answers["air_ratio"]) - 1) * si(answers["air_need"])
    share = spare / si(answers["dry_flue_gas"])
    return [Note("mostly_air", {"share": _percent(share)})] if share > 0.5 else []


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


def make_up(answers: Mapping[str, Q], ref: InForce) -> Table:
    """Parts of the flue gas of the sample, dry as analysers read it and wet as it leaves."""
    titles = {row["component"]: row["title"] for row in ref.rows("gas_components")}
    dry, wet = si(answers["dry_flue_gas"]), si(answers["wet_flue_gas"])
    parts = {
        "carbon_dioxide": si(answers["carbon_formed"]),
        "oxygen": si(answers["oxygen_left"]),
        "nitrogen": si(answers["nitrogen_left"]) + si(answers["argon_left"]),
    }
    rows: list[Mapping[str, Cell]] = [
        {"part": titles[name], "dry": 100 * amount / dry, "wet": 100 * amount / wet}
        for name, amount in parts.items()
    ]
    water = 100 * si(answers["water_formed"]) / wet
    rows.append({"part": titles["water"], "dry": None, "wet": water})
    return Table("make_up", tuple(rows))


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
