"""Tightness test of new industrial pipework: how long it must last, and its verdict."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.tightness.length_of_test import in_minutes
from calcs.domain.tightness.let_by import held_back, passes
from calcs.domain.tightness.movement import GENEROUS, beyond, coarse_ruling, too_coarse
from calcs.domain.tightness.starting_pressure import (
    ROUNDING_TOLERANCE,
    SUPPLY,
    below_supply,
    in_mbar,
    is_kilopascal,
    least_supplied,
    supply_untold,
    tenfold,
)
from calcs.engine.errors import Impossible, Missing
from calcs.engine.findings import Finding, Note, Ruling
from calcs.engine.traced import si
from calcs.engine.traced_functions import largest
from calcs.engine.units import Q, parse_quantity

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
        Impossible: The procedure has no figures for the gas.
        Missing: The volume is not known.
    """
    if gas not in TEST_GASES:
        raise Impossible("gas", "no_industrial_figures")
    if volume is None:
        raise Missing("installation_volume", "length_by_volume")
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
    longest = parse_quantity(row["longest"])
    let_by = _let_by(given, answers)
    verdict: Finding = _ruling(given, answers)
    if let_by is not None and "fall" in answers:
        verdict = held_back(verdict, [let_by])
    if passes(verdict):
        verdict = _proves_nothing(given, answers, longest, ref) or verdict
    findings = [verdict] if let_by is None else [verdict, let_by]
    if is_kilopascal(given, ref):
        findings.append(tenfold(given["test_start"]))
    if duration > longest:
        findings.append(Note("too_long_for_gauge", {"longest": in_minutes(longest)}))
    if let_by is None and passes(verdict):
        findings.append(Note("cut_off_from_gas"))
    return findings


def _proves_nothing(
    given: Mapping[str, Any], answers: Mapping[str, Q], longest: Q, ref: Any
) -> Ruling | None:
    """Why a steady gauge passes nothing: no pressure to drive a leak, or too long for the gauge."""
    if below_supply(given, ref):
        return _below_supply(given, ref)
    if supply_untold(given, ref):
        return Ruling("tightness", "cannot_tell", "start_too_coarse")
    if answers["test_duration"] > longest:
        values = {"longest": in_minutes(longest)}
        return Ruling("tightness", "not_judged", "too_long", (TABLE,), values)
    return None


def _below_supply(given: Mapping[str, Any], ref: Any) -> Ruling:
    """The test of new pipework is at its operating pressure, and no supply stands so low."""
    names = tuple(f"{SUPPLY}_{part}.{given['gas']}" for part in ("nominal", "tolerance"))
    values = {
        "start": in_mbar(given["test_start"]),
        "least": in_mbar(least_supplied(given["gas"], ref)),
    }
    return Ruling("tightness", "not_judged", "below_supply", names, values)


def _let_by(given: Mapping[str, Any], answers: Mapping[str, Q]) -> Ruling | None:
    """The let-by test of the valve that holds the gas back; None where air is and none was done.

    Pipework that is tested with air has no gas behind a valve: it is blanked or not yet joined.
    """
    rise, readable = answers.get("let_by_rise"), answers["readable_movement"]
    if rise is None:
        by_air = given["test_medium"] == "air"
        return None if by_air else Ruling("let_by", "not_judged", "let_by_missing")
    values = {"rise": in_mbar(abs(rise)), "none": in_mbar(readable)}
    start, test_start = given["let_by_start"], given["test_start"]
    if si(rise) >= si(readable) - ROUNDING_TOLERANCE and not _too_coarse(rise, given, readable):
        return Ruling("let_by", "does_not_meet", "lets_by", (TABLE,), values)
    if _too_coarse(rise, given, readable):
        return coarse_ruling("let_by", rise, readable, (TABLE,))
    if -si(rise) >= si(readable) - ROUNDING_TOLERANCE:
        return Ruling("let_by", "not_judged", "let_by_fell", (TABLE,), values)
    if si(start) < si(readable) - ROUNDING_TOLERANCE:
        # A pipe that is open to the air stands as still as that, and shows no gas that comes in.
        return Ruling("let_by", "not_judged", "let_by_no_pressure", (TABLE,), values)
    if test_start is not None and si(start) > si(test_start) - si(readable) + ROUNDING_TOLERANCE:
        return Ruling("let_by", "not_judged", "let_by_too_high", (TABLE,), values)
    return Ruling("let_by", "meets", "no_rise", (TABLE,), values)


def _too_coarse(movement: Q, given: Mapping[str, Any], readable: Q) -> bool:
    """The gauge can't tell the movement that counts, nor is the movement clear of its uncertainty.

    A step as wide as that movement is too wide too: a gauge of one decimal is not the one with two.
    """
    step = given.get("gauge_movement") or given["gauge_resolution"]
    is_too_wide = si(step) >= si(readable) - ROUNDING_TOLERANCE and not beyond(
        movement, si(readable)
    )
    return bool(is_too_wide or too_coarse(movement, readable))


def _ruling(given: Mapping[str, Any], answers: Mapping[str, Q]) -> Ruling:
    figures = (TABLE, "industrial.test_period_least")
    duration, movement = answers["test_duration"], answers["readable_movement"]
    values = {"duration": in_minutes(duration), "movement": in_mbar(movement)}
    fall = answers.get("fall")
    if fall is None:
        return Ruling("tightness", "not_judged", "test_to_come", figures, values)
    values["fall"] = in_mbar(abs(fall))
    if _too_coarse(fall, given, movement):
        return coarse_ruling("tightness", fall, movement, figures)
    # A fall that can be read fails, however short the test was.
    if si(fall) >= si(movement) - ROUNDING_TOLERANCE:
        return Ruling("tightness", "does_not_meet", "readable_fall", figures, values)
    if si(fall) < 0 and beyond(fall, GENEROUS * si(movement)):
        return Ruling("tightness", "does_not_meet", "rose_far", figures, values)
    if -si(fall) >= si(movement) - ROUNDING_TOLERANCE:
        return Ruling("tightness", "cannot_tell", "rose", figures, values)
    if given["elapsed"] is None or si(given["elapsed"]) < si(duration) * (1 - ROUNDING_TOLERANCE):
        return Ruling("tightness", "not_judged", "too_short", figures, values)
    return Ruling("tightness", "meets", "no_readable_fall", figures, values)
