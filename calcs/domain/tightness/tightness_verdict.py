"""What is said of a tightness test: verdicts, and what else explains the movement."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.pipes.installation import SMALL_METERS
from calcs.domain.tightness.industrial_test import industrial_findings
from calcs.domain.tightness.length_of_test import length_notes, too_little_time
from calcs.domain.tightness.let_by import held_back, let_by_findings, passes
from calcs.domain.tightness.movement import check_steps
from calcs.domain.tightness.permitted_drop import check_typed, largest_pipe
from calcs.domain.tightness.starting_pressure import (
    ROUNDING_TOLERANCE,
    check_covered,
    in_mbar,
    is_kilopascal,
    pressure_findings,
    test_start_untold,
    wrong_pressure,
)
from calcs.domain.tightness.tightness import edition_of, tightness_ruling
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded_of_readings
from calcs.engine.units import Q, at_most, join_unit

NOTES = (
    "cooling",
    "warming",
    "leak_at_limit",
    "confirm_movement",
    "short_test",
    "low_supply",
    "kilopascal",
    "too_long_for_gauge",
    "cut_off_from_gas",
)
REFUSALS = (
    "shorter_than_any",
    "between_steps_of_gauge",
    "larger_than_any",
    "more_than_half_of_the_start",
    "drop_by_meter_and_size",
    "looser_than_the_table",
    "more_than_on_this_meter",
    "beyond_the_small_procedure",
    "drop_by_volume",
    "beyond_the_table",
    "above_what_is_covered",
    "movement_on_any_gauge",
    "more_than_this_gauge",
)
RULINGS = (
    "smell",
    "rose",
    "rose_far",
    "fell_far",
    "beyond_any_drop",
    "no_movement",
    "no_perceptible_fall",
    "perceptible_fall",
    "perceptible_not_held",
    "tightness_too_coarse",
    "drop_not_held",
    "drop_not_held_no_volume",
    "no_rise",
    "lets_by",
    "let_by_rise",
    "let_by_fell",
    "let_by_not_held",
    "let_by_missing",
    "let_by_wrong_pressure",
    "let_by_too_high",
    "let_by_no_pressure",
    "let_by_too_coarse",
    "let_by_failed",
    "let_by_fallen",
    "let_by_open",
    "no_let_by",
    "let_by_first",
    "operating_pressure",
    "wrong_pressure",
    "below_supply",
    "start_too_coarse",
    "let_by_start_too_coarse",
    "short",
    "no_length",
    "period_not_held",
    "no_volume",
    "beyond_scope",
    "test_to_come",
    "too_short",
    "too_long",
    "readable_fall",
    "no_readable_fall",
)
SMELL = "smell"
READINGS = ("let_by_start", "let_by_end", "test_start", "test_end")


def tightness_findings(
    *, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any
) -> list[Finding]:
    """The verdict of the procedure chosen, and what else explains the movement."""
    if given["smell_of_gas"] == "yes":
        # Nobody who smells gas should read beside it that a control holds, or what to test next.
        smelt = (Ruling(name, "does_not_meet", "smell") for name in (SMELL, "tightness"))
        return list(smelt)
    _check(given, ref)
    if given["procedure"] == "industrial_new":
        return [*industrial_findings(given, answers, ref), *_temperature(answers)]
    edition = edition_of(given["edition"], ref)
    volume = answers.get("tested_volume")
    let_by = let_by_findings(given, answers.get("let_by_rise"), edition, ref)
    verdict = tightness_ruling(given, edition, answers.get("fall"), volume, ref)
    if "fall" not in answers:
        return [verdict, *let_by]
    verdict = held_back(verdict, let_by)
    if passes(verdict):
        verdict = _proves_nothing(given, volume, ref) or verdict
    findings = [verdict, *let_by, *pressure_findings(given, ref), _scope(volume, ref)]
    findings += _temperature(answers)
    findings += _leak_at_limit(answers, verdict)
    if edition == "4" and _judged_by_drop(verdict):
        findings.append(Note("confirm_movement"))
    return [*findings, *length_notes(given, ref)]


def _check(given: Mapping[str, Any], ref: Any) -> None:
    """Refuse what can't be.

    Raises:
        Impossible: A reading that the gauge can't show, a figure that no copy has, or a pressure
            above what the procedure covers.
    """
    if not is_kilopascal(given, ref):  # a slip of its own, which is told instead
        check_steps(given, READINGS)
    if given["procedure"] == "small":
        check_typed(given, ref)
        check_covered(given, ref)


def _scope(volume: Q | None, ref: Any) -> Finding:
    limit = "tightness.scope_volume"
    if volume is None:
        return Ruling("scope", "not_judged", "no_volume", (limit,))
    expanded_uncertainty = expanded_of_readings(volume)
    return Compare(
        "scope", volume, None, ref[limit], (limit,), "m**3", 5, expanded=expanded_uncertainty
    )


def _proves_nothing(given: Mapping[str, Any], volume: Q | None, ref: Any) -> Ruling | None:
    """Why a steady gauge passes nothing here: the procedure was not kept. None if it was."""
    if wrong_pressure(given, ref):
        return Ruling("tightness", "not_judged", "wrong_pressure")
    if test_start_untold(given, ref):
        return Ruling("tightness", "cannot_tell", "start_too_coarse")
    short = too_little_time(given, ref)
    if short is not None:
        return short
    if _is_beyond(given, volume, ref):
        return Ruling("tightness", "not_judged", "beyond_scope")
    if volume is None:
        return Ruling("tightness", "not_judged", "no_volume", ("tightness.scope_volume",))
    return None


def _is_beyond(given: Mapping[str, Any], volume: Q | None, ref: Any) -> bool:
    """Volume, pipe or meter is larger than the procedure covers: its time is too short for them."""
    if volume is not None and not at_most(volume, ref["tightness.scope_volume"]):
        return True
    pipe = largest_pipe(given)
    if pipe is not None and pipe > si(ref["tightness.scope_bore"]) + ROUNDING_TOLERANCE:
        return True
    return given["meter"] not in (None, *SMALL_METERS)


def _judged_by_drop(verdict: Finding) -> bool:
    """The gauge moved, and a permitted drop decides or would decide."""
    if isinstance(verdict, Ruling):
        return verdict.reason.startswith("drop_not_held")
    return isinstance(verdict, Compare)


def _temperature(answers: Mapping[str, Q]) -> list[Finding]:
    """What would have to happen to the temperature to give the same movement."""
    if "temperature_change" not in answers or not answers["fall"].magnitude:
        return []
    change = float(answers["temperature_change"].magnitude)
    values = {
        "change": join_unit(round_half_up(abs(change), 2), "kelvin"),
        "per_kelvin": join_unit(
            round_half_up(float(answers["pressure_per_kelvin"].magnitude), 2), "mbar/kelvin"
        ),
    }
    return [Note("cooling" if change > 0 else "warming", values)]


def _leak_at_limit(answers: Mapping[str, Q], verdict: Finding) -> list[Finding]:
    """The permitted drop told as a leak: for information, never as the rule."""
    if not isinstance(verdict, Compare) or "leak_rate" not in answers or verdict.high is None:
        return []
    ratio = si(verdict.high) / si(answers["fall"])
    leak = float(answers["leak_rate"].magnitude) * ratio
    values = {
        "drop": in_mbar(verdict.high),
        "leak": join_unit(round_half_up(leak, 2), "litre/hour"),
    }
    return [Note("leak_at_limit", values)]
