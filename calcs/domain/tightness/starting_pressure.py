"""Pressures that a let-by or tightness test begins at, and the slip of a gauge in kilopascal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.errors import Impossible
from calcs.engine.findings import SETTING, Compare, Finding, Note, Ruling
from calcs.engine.rounding import short_number
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, at_most, join_unit

# Readings of a gauge have a few last digits of noise: 20.4 − 20.0 is not 0.4 to the last one.
ROUNDING_TOLERANCE = 1e-9
LPG = ("propane", "butane")
# Where Edition 4 lets a low supply be tested, and where the reader compares LPG with their copy.
LOW_SUPPLY_VERDICT, OPERATING_VERDICT = "test_pressure_least", "operating_pressure"
NATURAL_GAS = (
    "tightness.test_pressure_low.natural_gas",
    "tightness.test_pressure_high.natural_gas",
)
BOUNDS = {"lpg_air": ("tightness.lpg_air_pressure_low", "tightness.lpg_air_pressure_high")}
SUPPLY = "working_pressure.supply"
_NEAR = 0.2  # how far ten times a start may be from LPG's usual pressure and still be a slip


def in_mbar(value: Q) -> str:
    """A pressure as it is shown in a sentence."""
    return join_unit(short_number(float(value.to("mbar").magnitude), 4), "mbar")


def tenfold(reading: Q) -> Note:
    """Asks if a pressure was read in kilopascal: as it was typed, and ten times as much."""
    return Note("kilopascal", {"typed": in_mbar(reading), "tenfold": in_mbar(10 * reading)})


def pressure_findings(given: Mapping[str, Any], ref: Any) -> list[Finding]:
    """Whether the test began at the pressure that the procedure asks for."""
    gas, start = given["gas"], given["test_start"]
    findings: list[Finding] = []
    if gas in LPG:
        figure = f"tightness.test_pressure.{gas}"
        values = {"pressure": in_mbar(ref[figure])}
        findings.append(
            Ruling(OPERATING_VERDICT, "not_judged", "operating_pressure", (figure,), values)
        )
    else:
        name, bounds = _window(gas, start, ref)
        findings.append(
            set_to("test_pressure" if name != LOW_SUPPLY_VERDICT else name, start, bounds, ref)
        )
        if name == LOW_SUPPLY_VERDICT:
            findings.append(Note("low_supply", {"least": in_mbar(ref[bounds[0]])}))
    if is_kilopascal(given, ref):
        findings.append(tenfold(start))
    return findings


def wrong_pressure(given: Mapping[str, Any], ref: Any) -> bool:
    """Whether the test began outside the pressures of the procedure, by what the gauge read.

    LPG is tested at its operating pressure, which the page can't know: there it must be one that
    the gas is supplied at. Propane's under butane is the regulator of the other gas.
    """
    gas, start = given["gas"], given["test_start"]
    if gas in LPG:
        either_side = ref[f"{SUPPLY}_tolerance.{gas}"]
        most = least_supplied(gas, ref) + either_side + either_side
        return below_supply(given, ref) or not at_most(start, most)
    _, bounds = _window(gas, start, ref)
    return not within(si(start), bounds, ref)


def start_untold(start: Q, bounds: tuple[str, str], ref: Any) -> bool:
    """Whether the gauge can't say that a pressure was in its window: its uncertainty is as wide."""
    low, high = (si(ref[name]) for name in bounds)
    return si(expanded(start)) > (high - low) / 2 + ROUNDING_TOLERANCE


def test_start_untold(given: Mapping[str, Any], ref: Any) -> bool:
    """The same for the start of the tightness test; LPG's window is what counts as near to it."""
    gas, start = given["gas"], given["test_start"]
    if gas in LPG:
        return supply_untold(given, ref)
    _, bounds = _window(gas, start, ref)
    return start_untold(start, bounds, ref)


def least_supplied(gas: str, ref: Any) -> Q:
    """The lowest pressure that a gas is supplied at."""
    return ref[f"{SUPPLY}_nominal.{gas}"] - ref[f"{SUPPLY}_tolerance.{gas}"]


def below_supply(given: Mapping[str, Any], ref: Any) -> bool:
    """Whether the test began below what its gas is supplied at: too little drove a leak."""
    return bool(
        si(given["test_start"]) < si(least_supplied(given["gas"], ref)) - ROUNDING_TOLERANCE
    )


def supply_untold(given: Mapping[str, Any], ref: Any) -> bool:
    """Whether the gauge can't say that the start was a pressure of supply: it is too coarse."""
    either_side = si(ref[f"{SUPPLY}_tolerance.{given['gas']}"])
    return bool(si(expanded(given["test_start"])) > either_side + ROUNDING_TOLERANCE)


def check_covered(given: Mapping[str, Any], ref: Any) -> None:
    """Refuse an LPG test that begins above what the small procedure covers.

    Where the pressure is set by the gauge, as with natural gas, the verdict on it says so.

    Raises:
        Impossible: It begins above the greatest operating pressure of the procedure.
    """
    gas, start = given["gas"], given["test_start"]
    if gas not in LPG or start is None:
        return
    most = ref[f"tightness.scope_pressure.{gas}"]
    if si(start) > si(most) + ROUNDING_TOLERANCE:
        typed, covered = in_mbar(start), in_mbar(most)
        raise Impossible("test_start", "above_what_is_covered", typed=typed, most=covered)


def is_kilopascal(given: Mapping[str, Any], ref: Any) -> bool:
    """Whether the start would be right ten times over: a gauge left in kilopascal reads so."""
    gas, start = given["gas"], given["test_start"]
    if start is None:
        return False
    if gas in LPG:
        usual = si(ref[f"tightness.test_pressure.{gas}"])
        return abs(10 * si(start) - usual) <= _NEAR * usual
    return within(10 * si(start), BOUNDS.get(gas, NATURAL_GAS), ref)


def _window(gas: str, start: Q, ref: Any) -> tuple[str, tuple[str, str]]:
    """What the pressure is held against: the usual bounds, or the one of a low supply."""
    bounds = BOUNDS.get(gas, NATURAL_GAS)
    least = "tightness.test_pressure_least.natural_gas"
    if gas == "natural_gas" and start < ref[bounds[0]] and ref.held(least) and start >= ref[least]:
        return LOW_SUPPLY_VERDICT, (least, bounds[1])
    return "", bounds


def within(pressure: float, bounds: tuple[str, str], ref: Any) -> bool:
    """Whether a plain pressure is inside a window, its ends included."""
    low, high = (si(ref[name]) for name in bounds)
    return low - ROUNDING_TOLERANCE <= pressure <= high + ROUNDING_TOLERANCE


def set_to(name: str, start: Q, bounds: tuple[str, str], ref: Any) -> Compare:
    """A pressure that the engineer sets by the gauge: the window is for what the gauge shows."""
    low, high = (ref[figure] for figure in bounds)
    return Compare(name, start, low, high, bounds, rule=SETTING)
