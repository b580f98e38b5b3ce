"""What is said of a tightness test: verdicts, and what else explains the movement."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.core import Compare, Finding, Note, Ruling
from calcs.topics.industrial_test import in_minutes, industrial_findings
from calcs.topics.installation import SMALL_METERS
from calcs.topics.starting_pressure import HAIR, in_mbar, pressure_findings, wrong_pressure
from calcs.topics.tightness import edition_of, largest_pipe, let_by_findings, tightness_ruling
from calcs.traced import si
from calcs.uncertainty import expanded_of_readings
from calcs.units import Q, at_most, join_unit, round_half_up


def tightness_findings(
    *, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any
) -> list[Finding]:
    """The verdict of the procedure chosen, and what else explains the movement."""
    if given["procedure"] == "industrial_new":
        return [*industrial_findings(given, answers, ref), *_temperature(answers)]
    edition = edition_of(given["edition"], ref)
    volume = answers.get("tested_volume")
    let_by = let_by_findings(given, edition, ref)
    verdict = tightness_ruling(given, edition, answers.get("fall"), volume, ref)
    if "fall" not in answers:
        return [verdict, *let_by]
    verdict = _held_back(verdict, let_by)
    if _passes(verdict) and (reason := _proves_nothing(given, volume, ref)):
        verdict = Ruling("tightness", "not_judged", reason)
    findings = [verdict, *let_by, *pressure_findings(given, ref)]
    if volume is not None:
        limit = "tightness.scope_volume"
        wide = expanded_of_readings(volume)
        findings.append(
            Compare("scope", volume, None, ref[limit], (limit,), "m**3", 5, expanded=wide)
        )
    findings += _temperature(answers)
    findings += _leak_at_limit(answers, findings[0])
    if edition == "4" and _judged_by_drop(findings[0]):
        findings.append(Note("confirm_movement"))
    if _is_short(given, ref):
        period = in_minutes(ref[f"tightness.test_period.{given['gas']}"])
        findings.append(Note("short_test", {"period": period}))
    return findings


def _proves_nothing(given: Mapping[str, Any], volume: Q | None, ref: Any) -> str:
    """Why a steady gauge passes nothing here: the procedure was not kept. Empty if it was."""
    if wrong_pressure(given, ref):
        return "wrong_pressure"
    if _is_short(given, ref):
        return "short"
    return "beyond_scope" if _is_beyond(given, volume, ref) else ""


def _is_beyond(given: Mapping[str, Any], volume: Q | None, ref: Any) -> bool:
    """Volume, pipe or meter is larger than the procedure covers: its time is too short for them."""
    if volume is not None and not at_most(volume, ref["tightness.scope_volume"]):
        return True
    pipe = largest_pipe(given)
    if pipe is not None and pipe > si(ref["tightness.scope_bore"]) + HAIR:
        return True
    return given["meter"] not in (None, *SMALL_METERS)


def _is_short(given: Mapping[str, Any], ref: Any) -> bool:
    period = f"tightness.test_period.{given['gas']}"
    elapsed = given["elapsed"]
    return elapsed is not None and ref.held(period) and not at_most(ref[period], elapsed)


def _held_back(verdict: Finding, let_by: list[Finding]) -> Finding:
    """Over a control that passes gas a steady gauge proves nothing: regulator and leak even out."""
    passes = _passes(verdict)
    reasons = {one.reason for one in let_by if isinstance(one, Ruling)}
    if passes and "let_by_rise" in reasons:
        return Ruling("tightness", "does_not_meet", "let_by_failed")
    if passes and reasons & {"let_by_not_held", "let_by_wrong_pressure"}:
        return Ruling("tightness", "not_judged", "let_by_open")
    return verdict


def _passes(verdict: Finding) -> bool:
    if isinstance(verdict, Ruling):
        return verdict.outcome == "meets"
    return isinstance(verdict, Compare) and si(verdict.reading) <= si(verdict.high)


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
    share = si(verdict.high) / si(answers["fall"])
    leak = float(answers["leak_rate"].magnitude) * share
    values = {
        "drop": in_mbar(verdict.high),
        "leak": join_unit(round_half_up(leak, 2), "litre/hour"),
    }
    return [Note("leak_at_limit", values)]
