"""Terminal position: a measured distance against the table for the flue and the heat input."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.declarations import (
    STATED,
    WRITTEN,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
)
from calcs.engine.errors import Impossible
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, at_most, parse_quantity

TABLE = "terminal_distances"
POSITIONS = (*"abcdefghijklmnop", "frame")  # the table's letters, and what has none
FLUES = ("natural_balanced", "fanned_balanced", "fanned_open")
GUARD = "terminal.guard_height"
ABOVE_GROUND = "i"  # above the ground, a roof or a balcony


def terminal_position(
    *, flue: str, position: str, heat_input_net: Q, measured: Q | None = None, ref: Any
) -> dict[str, Q | None]:
    """Distance that the table wants at a position, and what the measured one leaves over.

    Args:
        flue: "natural_balanced", "fanned_balanced" or "fanned_open".
        position: Letter of the position in the table, in small.
        heat_input_net: Heat input of the appliance. [kW]
        measured: Distance measured. [mm]
        ref: Uses the table `terminal_distances`.

    Returns:
        distance_needed: Least distance. [mm]
        spare: Measured less needed. [mm]

    Not covered: flues that end above a roof, basements and light wells, plume kits, and what the
    appliance's instructions permit beyond the table.

    >>> from calcs.engine.units import Quantity
    >>> row = {
    ...     "position": "A",
    ...     "flue": "fanned_balanced",
    ...     "input_above": "0 kW",
    ...     "input_to": "",
    ...     "distance": "300 mm",
    ...     "title": "",
    ...     "provenance": "published",
    ... }
    >>> class Ref(dict):
    ...     def rows(self, name):
    ...         return (row,)
    ...
    ...     def cell(self, name, text, label):
    ...         return Quantity(300.0, "mm")
    >>> at = terminal_position(
    ...     flue="fanned_balanced",
    ...     position="A",
    ...     measured=Quantity(250.0, "mm"),
    ...     heat_input_net=Quantity(24, "kW"),
    ...     ref=Ref(),
    ... )
    >>> at["spare"].magnitude
    -50.0
    """
    row = find_row(ref, flue, position, heat_input_net)
    if row is None or not row["distance"]:
        return {"distance_needed": None}
    needed = ref.cell(TABLE, row["distance"], "Distance in the table")
    return {
        "distance_needed": needed,
        "spare": None if measured is None else (measured - needed).to("mm"),
    }


def find_row(ref: Any, flue: str, position: str, heat_input_net: Q) -> Mapping[str, str] | None:
    """The row of the table whose input band holds the appliance; None where it has none."""
    rows: tuple[Mapping[str, str], ...] = ref.rows(TABLE)
    for row in rows:
        if (row["flue"], row["position"].lower()) != (flue, position.lower()):
            continue
        above = parse_quantity(row["input_above"])
        if at_most(heat_input_net, above) and above.magnitude > 0:
            continue
        if not row["input_to"] or at_most(heat_input_net, parse_quantity(row["input_to"])):
            return row
    return None


def check_height(position: str, measured: Q | None, height: Q | None) -> None:
    """Refuse a terminal that is further above a ground, a roof or a balcony than above the ground.

    Raises:
        Impossible: It is told to be.
    """
    if position != ABOVE_GROUND or measured is None or height is None:
        return
    more = (measured - height).to("mm")
    if more.magnitude > 0 and more > expanded(more):
        raise Impossible("height_above_ground", "lower_than_measured")


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """The measured distance against the table's."""
    row = find_row(ref, given["flue"], given["position"], given["heat_input_net"])
    if row is None or "distance_needed" not in answers:
        return [Ruling("distance", "not_judged", "no_row", (TABLE,))]
    findings: list[Finding] = []
    if given["measured"] is not None:
        findings.append(
            Compare(
                "distance",
                given["measured"],
                low=answers["distance_needed"],
                figures=(TABLE,),
                unit="mm",
                places=0,
                provenance=row["provenance"],
            )
        )
    else:
        findings.append(Ruling("distance", "not_judged", "not_measured", (TABLE,)))
    height = given["height_above_ground"]
    check_height(given["position"], given["measured"], height)
    if height is not None and height < ref[GUARD]:
        findings.append(Note("guard"))
    return findings


CALCULATOR = Calculator(
    formula=terminal_position,
    inputs=(
        Choice("flue", FLUES),
        Choice("position", POSITIONS),
        Input("heat_input_net", "kW", 0.5, 70, ("Btu/h",), uncertainty=STATED),
        Input("measured", "mm", 0, 100000, ("m",), optional=True, read_with="rule"),
        Input("height_above_ground", "m", 0, 100, ("mm",), optional=True, uncertainty=WRITTEN),
        Instrument("rule", "length", "mm", "tape_measure", 1000),
    ),
    outputs=(
        Output("distance_needed", "mm", places=0),
        Output("spare", "mm", places=0),
    ),
    sources=(Cite("approved_document_j", "Diagram 34"),),
    uses=(TABLE, GUARD),
    judge=judge,
    verdicts=("distance",),
    notes=("guard",),
    rulings=("no_row", "not_measured"),
    refusals=("lower_than_measured",),
)
