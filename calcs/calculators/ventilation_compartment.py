"""Ventilation of a compartment: the free area high and low that an appliance in it needs."""

from __future__ import annotations

from collections.abc import Mapping
from functools import reduce
from operator import add
from typing import Any

from calcs.domain.plausibility.mm2_for_cm2 import is_slip, millimetres_note
from calcs.engine.declarations import (
    STATED,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    Rows,
    When,
)
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.rounding import short_number
from calcs.engine.units import Q, at_most, join_unit

TABLE = "compartment_vents"
INSTRUCTIONS = "ventilation.compartment_instructions"
PLACES = ("high", "low")
SLIP = 0.1  # of the table's area: the point of a figure one place out


def ventilation_compartment(
    *,
    flue: str,
    air_from: str,
    appliances: tuple[Mapping[str, Q], ...],
    instructions: str,
    instructions_high: Q | None = None,
    instructions_low: Q | None = None,
    fitted_high: Q | None = None,
    fitted_low: Q | None = None,
    ref: Any,
) -> dict[str, Q | None]:
    """Free area of the vents of a compartment, one high and one low.

    Args:
        flue: "open_flued" or "room_sealed".
        air_from: "outside" or "room".
        appliances: `heat_input_net` of each. [kW]
        instructions: "silent", "none" where they ask for no vent, or "figure".
        instructions_high: Free area that they ask for high up. [cm**2]
        instructions_low: Free area that they ask for low down. [cm**2]
        fitted_high: Free area that is there, high. [cm**2]
        fitted_low: Free area that is there, low. [cm**2]
        ref: Uses the table `compartment_vents`.

    Returns:
        total_input_net: Heat input of all of them. [kW]
        area_high: Free area needed high up. [cm**2]
        area_low: Free area needed low down. [cm**2]
        spare_high: Fitted less needed, high. [cm**2]
        spare_low: Fitted less needed, low. [cm**2]

    Not covered: compartments that hold both kinds of flue, and what the room beside them needs.

    >>> from calcs.engine.units import Quantity
    >>> row = {"flue": "open_flued", "to": "outside", "high": "5", "low": "10", "provenance": ""}
    >>> class Ref(dict):
    ...     def rows(self, name):
    ...         return (row,)
    ...
    ...     def cell(self, name, text, label):
    ...         return Quantity(float(text), "cm**2/kW")
    >>> vents = ventilation_compartment(
    ...     flue="open_flued",
    ...     air_from="outside",
    ...     appliances=({"heat_input_net": Quantity(15, "kW")},),
    ...     instructions="silent",
    ...     ref=Ref(),
    ... )
    >>> vents["area_high"].magnitude, vents["area_low"].magnitude
    (75.0, 150.0)
    """
    total_input_net = reduce(add, (appliance["heat_input_net"] for appliance in appliances))
    found: dict[str, Q | None] = {"total_input_net": total_input_net}
    if instructions == "none":
        return found
    if instructions == "figure":
        areas = (instructions_high, instructions_low)
    else:
        row = find_row(ref, flue, air_from)
        areas = tuple(_by_table(place, row, found, ref) for place in PLACES)
    found.update(zip(("area_high", "area_low"), areas, strict=True))
    for place, area, fitted in zip(PLACES, areas, (fitted_high, fitted_low), strict=True):
        found[f"spare_{place}"] = None if fitted is None else fitted - area
    return found


def _by_table(place: str, row: Mapping[str, str], found: Mapping[str, Q | None], ref: Any) -> Q:
    """Free area that a row of the table asks for."""
    rate = ref.cell(TABLE, row[place], f"Area for each kilowatt, {place}")
    return (rate * found["total_input_net"]).to("cm**2")


def find_row(ref: Any, flue: str, air_from: str) -> Mapping[str, str]:
    """The row of the table for a kind of flue and for where the air comes from."""
    rows: tuple[Mapping[str, str], ...] = ref.rows(TABLE)
    return next(row for row in rows if (row["flue"], row["to"]) == (flue, air_from))


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """Each vent that is there against what is needed."""
    silent = given["instructions"] == "silent"
    figure = TABLE if silent else INSTRUCTIONS
    row = find_row(ref, given["flue"], given["air_from"]) if silent else {}
    findings: list[Finding] = []
    for place in PLACES:
        fitted = given[f"fitted_{place}"]
        asks_for_none = given["instructions"] == "none" or (
            given["instructions"] == "figure" and answers[f"area_{place}"].magnitude <= 0
        )
        if asks_for_none and given["flue"] == "open_flued":
            findings.append(Ruling(place, "not_judged", "burns_its_air", (figure,)))
        elif given["instructions"] == "none":
            findings.append(Ruling(place, "meets", "none_asked", (figure,)))
        elif fitted is None:
            findings.append(
                Ruling(
                    place, "not_judged", "not_measured", (figure,), provenance=row.get("provenance")
                )
            )
        elif is_slip(fitted, answers[f"area_{place}"]):
            findings.append(Ruling(place, "not_judged", "square_millimetres", (figure,)))
        elif doubted := _doubted(place, fitted, given, answers, ref):
            findings.append(doubted)
        else:
            findings.append(
                Compare(
                    place,
                    fitted,
                    low=answers[f"area_{place}"],
                    figures=(figure,),
                    unit="cm**2",
                    provenance=row.get("provenance"),
                )
            )
    if given["flue"] == "open_flued" and given["air_from"] == "room":
        findings.append(Note("room_needs_air"))
    vents = [(given[f"fitted_{place}"], answers.get(f"area_{place}")) for place in PLACES]
    return [*findings, *millimetres_note(vents)]


def _doubted(
    place: str, fitted: Q, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any
) -> Ruling | None:
    """Why a vent that is enough by a typed figure alone is not passed; None where it is.

    Instructions may ask for less round an appliance that is sealed from its compartment. An
    open-flued one burns the air that comes in, and a slip in the figure would leave it without. For
    the heat of either, a figure of less than a tenth of the table's is a slip of its point.
    """
    typed: Q = answers[f"area_{place}"]
    if given["instructions"] != "figure" or typed.magnitude <= 0 or fitted < typed:
        return None
    least = _by_table(place, find_row(ref, given["flue"], given["air_from"]), answers, ref)
    reason = "less_than_the_table" if given["flue"] == "open_flued" else "hardly_a_vent"
    enough = least if given["flue"] == "open_flued" else SLIP * least
    if at_most(enough, fitted if given["flue"] == "open_flued" else typed):
        return None
    shown = {"least": join_unit(short_number(float(least.magnitude)), "cm**2")}
    return Ruling(place, "not_judged", reason, (INSTRUCTIONS, TABLE), shown)


BY_FIGURE = When("instructions", ("figure",))


def _area(name: str, **more: Any) -> Input:
    return Input(name, "cm**2", low=0, high=20000, also=("mm**2",), **more)


CALCULATOR = Calculator(
    formula=ventilation_compartment,
    inputs=(
        Choice("flue", ("open_flued", "room_sealed")),
        Choice("air_from", ("outside", "room"), default="room"),
        Rows(
            "appliances",
            (Input("heat_input_net", "kW", 0.1, 70, ("Btu/h",), uncertainty=STATED),),
            high=10,
        ),
        Choice("instructions", ("silent", "none", "figure"), default="silent"),
        _area("instructions_high", when=BY_FIGURE, uncertainty=STATED),
        _area("instructions_low", when=BY_FIGURE, uncertainty=STATED),
        _area("fitted_high", optional=True, read_with="rule"),
        _area("fitted_low", optional=True, read_with="rule"),
        Instrument("rule", "area", "cm**2", "vent_by_measure", 1000, ("mm**2", "percent")),
    ),
    outputs=(
        Output("total_input_net", "kW", places=1),
        Output("area_high", "cm**2", places=1),
        Output("area_low", "cm**2", places=1),
        Output("spare_high", "cm**2", places=1),
        Output("spare_low", "cm**2", places=1),
    ),
    sources=(
        Cite("bs_5440_2", "compartments"),
        Cite("approved_document_j", "Appendix C, worked example of a compartment"),
    ),
    uses=(TABLE, INSTRUCTIONS),
    judge=judge,
    verdicts=PLACES,
    notes=("room_needs_air", "square_millimetres"),
    rulings=(
        "none_asked",
        "burns_its_air",
        "less_than_the_table",
        "hardly_a_vent",
        "not_measured",
        "square_millimetres",
    ),
)
