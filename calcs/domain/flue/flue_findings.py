"""What a flue gas sample says: its levels, its fit with the fuel, air that leaked in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from calcs.domain.flue.flue_fit import AIR, MISFIT, agrees, allowed
from calcs.domain.flue.flue_levels import (
    CRITICAL,
    DIOXIDE_INSTRUCTIONS,
    LEANEST,
    ROOM_STOP,
    TYPE_TEST,
    Level,
    levels_of,
)
from calcs.engine.decide import beyond, ceiling
from calcs.engine.findings import Cell, Compare, Finding, Note, Ruling, Table
from calcs.engine.in_force import InForce
from calcs.engine.rounding import round_half_up, short_number
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, join_unit

# A sample is one of flue gas, and no air with a trace of it, where its carbon dioxide is known to
# within this share of itself. The ratio is known no better.
TRACE = 0.5
SPENT = ("no_oxygen_left", "no_air_left")
TOO_LEAN = "too_lean_to_burn"
PREMIX = "condensing_boiler"  # of the appliances: gas and air are mixed before they burn


def sound_findings(
    given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce
) -> list[Finding]:
    """What a sample that can be true is held to, and what else it says."""
    dioxide = given["carbon_dioxide"]
    read = answers["carbon_dioxide_instrument"] if dioxide is None else dioxide
    levels, gases = levels_of(given, ref), (given["oxygen"], read)
    monoxide, most = given["carbon_monoxide"], answers["carbon_dioxide_max"]
    findings = level_findings(
        levels,
        answers["ratio"],
        monoxide,
        (*gases, most),
        ref,
        is_premix=given["appliance"] == PREMIX,
    )
    if "leaked_air" in answers:
        findings = [_undiluted(one, answers["leaked_air"]) for one in findings]
    if "oxygen_difference" in answers:
        findings += fuel_findings(answers, (given["oxygen"], given["carbon_dioxide"]), ref)
    findings += spare_air_notes(answers)
    if "leaked_air" in answers:
        findings.append(dilution_finding(answers["leaked_air"]))
    return [*findings, make_up(answers, ref)]


def untrue_findings(
    reason: str, given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce
) -> list[Finding]:
    """What a sample that can't be true would have been held to: none of it is judged."""
    dioxides = (given["carbon_dioxide"], answers.get("carbon_dioxide_instrument"))
    levels = levels_of(given, ref)
    findings = nothing_judged(levels, reason, given["carbon_monoxide"], dioxides, ref)
    if "oxygen_difference" in answers:
        readings = given["oxygen"], given["carbon_dioxide"]
        air = [Ruling("fuel", "not_judged", reason)]
        findings += fuel_findings(answers, readings, ref) if reason == MISFIT else air
    if given["carbon_dioxide_expected"] is not None:
        findings.append(Ruling("dilution", "not_judged", reason, (DIOXIDE_INSTRUCTIONS,)))
    return findings


def level_findings(
    levels: Iterable[Level],
    ratio: Q,
    monoxide: Q,
    gases: tuple[Q | None, Q, Q],
    ref: InForce,
    *,
    is_premix: bool,
) -> list[Finding]:
    """A sample that can be true, against each level; where none is held, nothing is judged.

    Little carbon monoxide passes nothing in a sample that is air but for a trace, because air thins
    it; nor where no oxygen is left, because no burner takes all of it and makes none; nor where a
    premix burner would have burnt with more air than its mixture burns with.

    Args:
        levels: What the sample is held to.
        ratio: Carbon monoxide over carbon dioxide.
        monoxide: Carbon monoxide.
        gases: Oxygen, None where it was not read; the carbon dioxide of the ratio; and the most
            that the fuel can make.
        ref: Uses the levels by calculation and the lean limit.
        is_premix: Whether gas and air are mixed before they burn.
    """
    held, (_, dioxide, _) = list(levels), gases
    is_trace = si(expanded(dioxide)) > TRACE * si(dioxide)
    thin = is_trace or any(_is_too_thin(one, ratio) for one in held)
    flameless = of_no_flame(gases, ref, is_premix=is_premix)
    findings: list[Finding] = []
    for one in held:
        reading = ratio if one.is_ratio else monoxide
        if one.high is None:
            findings.append(_no_level(one, ratio, ref))
        elif (is_trace if one.is_ratio else thin) and si(reading) <= si(one.high):
            findings.append(Ruling(one.name, "not_judged", "sample_too_thin", one.figures))
        elif flameless and si(reading) <= si(one.high):
            findings.append(Ruling(one.name, "not_judged", flameless, one.figures))
        else:
            unit, places = ("", 4) if one.is_ratio else ("ppm", 0)
            findings.append(Compare(one.name, reading, None, one.high, one.figures, unit, places))
    return findings


def of_no_flame(gases: tuple[Q | None, Q, Q], ref: InForce, *, is_premix: bool) -> str:
    """The ruling where no sound burner makes such a sample; empty where one may.

    Either no oxygen is left in it, or more air than a premix flame burns with. Where oxygen was not
    read, carbon dioxide at the most that the fuel can make says the first of the two.

    Args:
        gases: As for `level_findings`.
        ref: Uses the lean limit.
        is_premix: Whether gas and air are mixed before they burn.
    """
    oxygen, dioxide, most = gases
    if is_premix and si(dioxide) < si(ref[LEANEST]) * si(most):
        return TOO_LEAN
    if oxygen is not None:
        return SPENT[0] if si(oxygen) <= si(expanded(oxygen)) else ""
    return SPENT[1] if si(dioxide) + si(expanded(dioxide)) >= si(most) else ""


def _undiluted(finding: Finding, leaked: Q) -> Finding:
    """No pass for carbon monoxide that would be above its limit without the air that leaked in."""
    if not isinstance(finding, Compare) or finding.name != "carbon_monoxide":
        return finding
    reading, high = finding.reading, finding.high
    if high is None or si(leaked) <= si(expanded(leaked)) or si(reading) > si(high):
        return finding
    if si(reading) + si(expanded(reading)) <= si(high) * (1 - si(leaked)):
        return finding
    return Ruling(finding.name, "not_judged", "sample_diluted", finding.figures)


def _is_too_thin(level: Level, ratio: Q) -> bool:
    """Whether so little of the sample is flue gas that its ratio can't be told from a level."""
    if level.high is None or not level.is_ratio:
        return False
    return beyond(expanded(ratio), ceiling(ratio, None, level.high, None))


def _no_level(level: Level, ratio: Q, ref: InForce) -> Ruling:
    """No pass, and no comfort either: what is critical by calculation is said to be.

    What is more than any gas fire or cooker was allowed on the test bench fails without a level.
    """
    critical, most = ref[CRITICAL], ref[TYPE_TEST]
    least = si(ratio) - si(expanded(ratio))
    if least > si(most):
        shown = {"most": short_number(float(most.to("").magnitude))}
        return Ruling(level.name, "does_not_meet", "above_type_test", (TYPE_TEST,), shown)
    if least <= si(critical):
        return Ruling(level.name, "not_judged", "no_level", level.figures)
    values = {"critical": short_number(float(critical.to("").magnitude))}
    return Ruling(level.name, "not_judged", "no_level_high", (*level.figures, CRITICAL), values)


def nothing_judged(
    levels: Iterable[Level], reason: str, monoxide: Q, dioxides: Iterable[Q | None], ref: InForce
) -> list[Finding]:
    """The same levels for a sample that can't be true: none is judged, and a danger is named.

    Args:
        levels: What the sample would have been held to.
        reason: Id of the words that say why it judges nothing. With `_high` behind it they say that
            more than a level was read.
        monoxide: Carbon monoxide, as read.
        dioxides: Carbon dioxide as read and as it belongs to the oxygen, either of them wrong.
        ref: Uses the carbon monoxide at which a room is left: what may be air may be its air.
    """
    held, known = list(levels), [one for one in dioxides if one is not None]
    limits = [one for one in held if one.high is not None]
    if reason == AIR:
        limits.append(Level("carbon_monoxide", ref[ROOM_STOP], (ROOM_STOP,)))
    if any(_is_beyond(one, monoxide, known) for one in limits):
        reason = f"{reason}_high"
    return [Ruling(one.name, "not_judged", reason, one.figures) for one in held]


def _is_beyond(level: Level, monoxide: Q, dioxides: list[Q]) -> bool:
    """Whether a level is clearly passed by the reading that makes most of it."""
    least = si(monoxide) - si(expanded(monoxide))
    if not level.is_ratio:
        return least > si(level.high)
    return any(least > si(level.high) * (si(one) + si(expanded(one))) for one in dioxides)


def fuel_findings(answers: Mapping[str, Q], readings: tuple[Q, Q], ref: InForce) -> list[Finding]:
    """Whether oxygen and carbon dioxide fit the fuel, within the uncertainty of both."""
    difference = answers["oxygen_difference"]
    values = {
        "difference": _percent(abs(si(difference))),
        "expanded": _percent(allowed(difference, readings, ref)),
        "maximum": _percent(si(answers["implied_maximum"])),
    }
    if agrees(difference, readings, ref):
        return [Ruling("fuel", "meets", "fits", (), values), Note("same_line")]
    reason = "too_much" if difference.magnitude > 0 else "too_little"
    return [Ruling("fuel", "does_not_meet", reason, (), values)]


def spare_air_notes(answers: Mapping[str, Q]) -> list[Finding]:
    """A note where most of the dry sample is air that burned nothing."""
    spare = (si(answers["air_ratio"]) - 1) * si(answers["air_need"])
    share = spare / si(answers["dry_flue_gas"])
    return [Note("mostly_air", {"share": _percent(share)})] if share > 0.5 else []


def dilution_finding(leaked: Q) -> Ruling:
    """Whether the carbon dioxide is what the instructions give, within its uncertainty."""
    expanded_uncertainty = expanded(leaked)
    share, uncertainty = si(leaked), si(expanded_uncertainty)
    values = {"share": _percent(abs(share)), "expanded": _percent(uncertainty)}
    inside = abs(share) <= uncertainty
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
