"""Tightness test of new industrial pipework: how long it must last, and its verdict."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.core import Finding, Note, Ruling
from calcs.errors import Missing
from calcs.topics.starting_pressure import HAIR, far_too_low, in_mbar, is_kilopascal, tenfold
from calcs.traced import largest, si
from calcs.units import Q, join_unit, parse_quantity, round_half_up

TABLE = "industrial_gauges"
GAUGES = (
    "water",
    "high_density_fluid",
    "electronic_one_decimal",
    "electronic_two_decimals",
    "electronic_one_decimal_wide_range",
    "electronic_no_decimal",
    "mercury",
)
TEST_GASES = ("natural_gas", "propane", "butane")


def _row(gauge: str, ref: Any) -> Mapping[str, str]:
    """Row of the table; its words become the name of the option."""
    rows: Mapping[str, Mapping[str, str]] = {
        row["gauge"].lower().replace(",", "").replace(" ", "_"): row for row in ref.rows(TABLE)
    }
    return rows[gauge]


def duration_of(
    volume: Q | None, gas: str, gauge: str, medium: str, ref: Any
) -> dict[str, Q | None]:
    """Least length of the test, from gauge, volume and gas.

    Raises:
        Missing: The volume is not known.
    """
    if volume is None:
        raise Missing("installation_volume", fix="The length of the test goes by the volume.")
    row = _row(gauge, ref)
    movement = ref.cell(TABLE, row["movement"], f"{row['gauge']}, readable movement")
    air = "air_" if medium == "air" else ""
    needed = (movement * volume * ref[f"industrial.{air}test_factor.{gas}"]).to("min")
    leak = ref["reference_state.pressure"] * ref[f"industrial.leak_limit.{gas}"]
    return {
        "readable_movement": movement,
        "needed_duration": needed,
        "test_duration": largest(needed, ref["industrial.test_period_least"]),
        "factor_by_leak": None if air else (1 / leak).to("min/(mbar*m**3)"),
    }


def industrial_findings(
    given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any
) -> list[Finding]:
    """The verdict on new industrial pipework, and whether the gauge can last the test."""
    duration, row = answers["test_duration"], _row(given["test_gauge"], ref)
    findings: list[Finding] = [_held_back(_ruling(given, answers), given, answers, ref)]
    if given["test_start"] is not None and is_kilopascal(given, ref):
        findings.append(tenfold(given["test_start"]))
    longest = parse_quantity(row["longest"])
    if duration > longest:
        findings.append(Note("too_long_for_gauge", {"longest": in_minutes(longest)}))
    return findings


def _held_back(
    ruling: Ruling, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any
) -> Ruling:
    """A steady gauge proves nothing with no pressure, or over a valve that passes gas."""
    if ruling.outcome != "meets":
        return ruling
    rise = answers.get("let_by_rise")
    if rise is not None and si(rise) >= si(answers["readable_movement"]) - HAIR:
        return Ruling("tightness", "does_not_meet", "let_by_failed")
    if far_too_low(given, ref):
        return Ruling("tightness", "not_judged", "wrong_pressure")
    return ruling


def _ruling(given: Mapping[str, Any], answers: Mapping[str, Q]) -> Ruling:
    if given["smell_of_gas"] == "yes":
        return Ruling("tightness", "does_not_meet", "smell")
    records = (TABLE, "industrial.test_period_least")
    duration, movement = answers["test_duration"], answers["readable_movement"]
    values = {"duration": in_minutes(duration), "movement": in_mbar(movement)}
    if "fall" not in answers:
        return Ruling("tightness", "not_judged", "test_to_come", records, values)
    values["fall"] = in_mbar(abs(answers["fall"]))
    if given["elapsed"] is None or si(given["elapsed"]) < si(duration) * (1 - HAIR):
        return Ruling("tightness", "not_judged", "too_short", records, values)
    fall, readable = si(answers["fall"]), si(movement) - HAIR
    if fall >= readable:
        return Ruling("tightness", "does_not_meet", "readable_fall", records, values)
    if -fall >= readable:
        return Ruling("tightness", "cannot_tell", "rose", records, values)
    return Ruling("tightness", "meets", "no_readable_fall", records, values)


def in_minutes(period: Q) -> str:
    """A period as it is shown in a sentence."""
    return join_unit(round_half_up(float(period.to("min").magnitude), 1), "min")
