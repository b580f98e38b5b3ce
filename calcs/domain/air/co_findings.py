"""What is said of carbon monoxide in a room: over time, at which alarm, by which guideline."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.air.air_readings import worst_mean, worst_start
from calcs.domain.plausibility.ratio import check_for_percent
from calcs.domain.plausibility.watch_step import check_time
from calcs.engine.findings import Compare, Finding, Note, Ruling, Table
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, at_most, parse_quantity

STOP = "carbon_monoxide.room_stop"
GUIDELINES, ALARMS = "carbon_monoxide_guidelines", "alarm_times"


def closest_guideline(
    ref: Any, times: list[float], values: list[float]
) -> tuple[Mapping[str, str], float] | None:
    """Row whose guideline the readings come closest to or pass most, and where its stretch starts.

    None where the readings cover no period of the table.
    """
    found = []
    for row in ref.rows(GUIDELINES):
        period = si(parse_quantity(row["period"]))
        start = worst_start(times, values, period)
        if row["share"] and start is not None:
            mean = worst_mean(times, values, start, period)
            found.append((mean / si(parse_quantity(row["share"])), row, start))
    if not found:
        return None
    _, row, start = max(found, key=lambda one: one[0])
    return row, start


def alarm_bounds(ref: Any, gas: Q) -> tuple[Q | None, Q | None]:
    """Times before which an alarm is silent and by which it sounds, in this much gas.

    More gas may only make it sound sooner. So a level between two of the table has the silence of
    the one above it and the deadline of the one below it.
    """
    silent = sounds = None
    for row in ref.rows(ALARMS):
        level = parse_quantity(row["carbon_monoxide"])
        if row["silent_before"] and silent is None and at_most(gas, level):
            silent = ref.cell(ALARMS, row["silent_before"], "No alarm before")
        if row["sounds_by"] and at_most(level, gas):
            sounds = ref.cell(ALARMS, row["sounds_by"], "Alarm by")
    return silent, sounds


def co_findings(given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """Readings against the level at which work stops and the guidelines, or the alarm's time."""
    step = given["analyser_resolution"]
    if given["question"] == "alarm":
        check_time(given, ("alarm_time",))
        check_for_percent("alarm_gas", given["alarm_gas"], step)
        return [_alarm(given, answers)]
    for reading in given["readings"]:
        field = f"readings[{reading['row'] - 1}].carbon_monoxide"
        check_for_percent(field, reading["carbon_monoxide"], step)
    check_for_percent("background", given["background"], step)
    # A background of more is the room's own air, or an analyser that was not zeroed outdoors.
    known = [answers["highest"], *([] if (air := given["background"]) is None else [air])]
    worst = max(known, key=si)
    room: Finding = Compare("room", worst, high=ref[STOP], figures=(STOP,))
    if "mean" not in answers and at_most(worst + expanded(worst), ref[STOP]):
        room = Ruling("room", "not_judged", "one_reading", (STOP,))
    findings: list[Finding] = [room]
    if "guideline_mean" in answers:
        mean, limit = answers["guideline_mean"], answers["guideline"]
        findings.append(Compare("guideline", mean, high=limit, figures=(GUIDELINES,)))
    else:
        findings.append(Ruling("guideline", "not_judged", "too_short", (GUIDELINES,)))
    if given["background"] is not None and "air_changes" not in answers:
        findings.append(Note("no_fall"))
    return [*findings, _means(given, ref)] if "mean" in answers else findings


def _alarm(given: Mapping[str, Any], answers: Mapping[str, Q]) -> Finding:
    time, sounds = given["alarm_time"], answers.get("sounds_by")
    if given["sounded"] == "yes":
        low = answers.get("silent_before")
        return Compare("alarm", time, low, sounds, (ALARMS,), unit="min")
    if sounds is None:
        # An alarm that is dead keeps as silent.
        return Ruling("alarm", "not_judged", "need_not_sound", (ALARMS,))
    if time > sounds:
        return Ruling("alarm", "does_not_meet", "should_have_sounded", (ALARMS,))
    return Ruling("alarm", "not_judged", "has_time_left", (ALARMS,))


def _means(given: Mapping[str, Any], ref: Any) -> Table:
    times = [si(reading["time"]) for reading in given["readings"]]
    values = [_ppm(reading["carbon_monoxide"]) for reading in given["readings"]]
    rows = []
    for row in ref.rows(GUIDELINES):
        period = si(parse_quantity(row["period"]))
        start = worst_start(times, values, period)
        rows.append(
            {
                "period": row["period"],
                "guideline": float(parse_quantity(row["share"]).magnitude)
                if row["share"]
                else None,
                "mean": None if start is None else worst_mean(times, values, start, period),
            }
        )
    return Table("guidelines", tuple(rows))


def _ppm(value: Q) -> float:
    return float(value.to("ppm").magnitude)
