"""What is said of a flueless appliance: its vents, what is permitted, and its room."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.air.flueless_vents import (
    ALLOWANCES,
    AREAS,
    BASE,
    BED_SITTING,
    CABINET_AREA,
    CABINET_LEAST,
    CABINET_ROOM,
    CANOPY_SHARE,
    FIRE_AIR,
    FIRE_AREA,
    FIRE_CLEARANCE,
    FIRE_INPUT,
    FIRE_LARGEST,
    HEATER_INPUT,
    LOADS,
    SLEEPING,
    TABLES,
)
from calcs.domain.plausibility.mm2_for_cm2 import is_slip, millimetres_note
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.rounding import round_half_up, short_number
from calcs.engine.units import Q, Quantity, join_unit


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """The vents, whether the appliance is allowed in the room, and the window."""
    return [
        *_vents(given, answers),
        *_permitted(given, answers, ref),
        *_room(given, ref),
        *_cubic_feet_note(given["room_volume"]),
        *millimetres_note(
            (given[vent], answers.get(need))
            for vent, need in (
                ("area_fitted", "area_needed"),
                ("fitted_high", "area_high"),
                ("fitted_low", "area_low"),
            )
        ),
    ]


def _vents(given: Mapping[str, Any], answers: Mapping[str, Q]) -> list[Finding]:
    kind = given["kind"]
    if kind == "cabinet_heater":
        pairs = [
            (f"area_{place}", given[f"fitted_{place}"], answers[f"area_{place}"])
            for place in ("high", "low")
        ]
    elif "area_needed" in answers:
        pairs = [("area", given["area_fitted"], answers["area_needed"])]
    else:
        return []
    if kind == "decorative_fire" and answers["area_needed"].magnitude == 0:
        return [Ruling("area", "meets", "may_need_none", (FIRE_INPUT, FIRE_CLEARANCE, FIRE_AIR))]
    figures = _area_figures(given)
    findings: list[Finding] = []
    for name, fitted, needed in pairs:
        if needed.magnitude == 0:
            findings.append(Ruling(name, "meets", "none_needed", figures))
        elif fitted is None:
            findings.append(Ruling(name, "not_judged", "not_measured", figures))
        elif is_slip(fitted, needed):
            findings.append(Ruling(name, "not_judged", "square_millimetres", figures))
        else:
            findings.append(Compare(name, fitted, low=needed, figures=figures, unit="cm**2"))
    return findings


def _area_figures(given: Mapping[str, Any]) -> tuple[str, ...]:
    kind = given["kind"]
    if kind in TABLES:
        return (TABLES[kind],)
    if kind == "cabinet_heater":
        return (CABINET_AREA, CABINET_LEAST)
    if kind == "decorative_fire":
        return (CANOPY_SHARE if given["hood"] == "canopy" else FIRE_AREA,)
    return (AREAS[given["space"]], BASE, ALLOWANCES[given["space"]])


def _permitted(given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    kind, volume, heat_input = (given[n] for n in ("kind", "room_volume", "heat_input_net"))
    findings: list[Finding] = []
    if "greatest_input" in answers:
        load = LOADS[kind, given["space"]]
        limit = answers["greatest_input"]
        findings.append(Compare("input", heat_input, high=limit, figures=(load,), places=2))
    if kind == "cabinet_heater":
        least = ref[CABINET_ROOM]
        findings.append(Compare("volume", volume, low=least, figures=(CABINET_ROOM,), strict=True))
    if kind == "water_heater":
        limit = ref[HEATER_INPUT]
        findings.append(Compare("input", heat_input, high=limit, figures=(HEATER_INPUT,)))
        if "area_needed" not in answers:
            findings.append(Ruling("volume", "does_not_meet", "room_too_small", (TABLES[kind],)))
    if kind == "decorative_fire":
        findings.append(
            Compare("input", heat_input, high=ref[FIRE_LARGEST], figures=(FIRE_LARGEST,))
        )
    if kind == "cooker" and given["room_use"] == "sleeping":
        findings.append(
            Compare("volume", volume, low=ref[BED_SITTING], figures=(BED_SITTING,), unit="m**3")
        )
    return findings


def _room(given: Mapping[str, Any], ref: Any) -> list[Finding]:
    kind = given["kind"]
    findings: list[Finding] = []
    if given["room_use"] == "bathroom":
        findings.append(Ruling("room", "does_not_meet", "not_in_bathrooms", (SLEEPING,)))
    elif given["room_use"] == "sleeping" and kind != "cooker":
        limit = ref[SLEEPING]
        findings.append(Compare("room", given["heat_input_net"], high=limit, figures=(SLEEPING,)))
        findings.append(Note("sleeping_needs_sensing"))
    figure = TABLES["cooker"] if kind == "cooker" else AREAS[given["space"] or "room"]
    if given["window"] == "yes":
        findings.append(Ruling("window", "meets", "window_opens", (figure,)))
    elif given["window"] == "no":
        findings.append(Ruling("window", "does_not_meet", "no_window", (figure,)))
    elif kind != "decorative_fire":
        findings.append(Note("window_not_known"))
    return findings


# Cubic metres, common practice: few rooms are larger, and in cubic feet all but closets are.
GREAT_ROOM = 200


def _cubic_feet_note(volume: Q | None) -> list[Finding]:
    """A note where a room is so large that its volume may be in cubic feet."""
    if volume is None or str(volume.units) != "meter ** 3" or volume.magnitude <= GREAT_ROOM:
        return []
    number = float(volume.magnitude)
    cubic_metres = Quantity(number, "ft**3").to("m**3").magnitude
    values = {
        "typed": join_unit(short_number(number), "m**3"),
        "feet": join_unit(short_number(number), "ft**3"),
        "meant": join_unit(round_half_up(cubic_metres, 1), "m**3"),
    }
    return [Note("may_be_cubic_feet", values)]
