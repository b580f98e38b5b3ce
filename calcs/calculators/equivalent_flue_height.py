"""Equivalent flue height: how tall a plain straight pipe would pull like the flue that is there."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

from calcs.domain.plausibility.ratio import LEAST_RATIO
from calcs.engine.declarations import (
    COUNTED,
    STATED,
    WRITTEN,
    Calculator,
    Choice,
    Cite,
    Input,
    Output,
    Rows,
    TableShape,
    When,
)
from calcs.engine.errors import Impossible
from calcs.engine.findings import Cell, Compare, Finding, Note, Ruling, Table
from calcs.engine.in_force import InForce
from calcs.engine.traced import si
from calcs.engine.units import Q, Quantity, join_unit

PIPE, BLOCKS, FITTINGS = (f"flue_resistance_of_{what}" for what in ("pipe", "blocks", "fittings"))
Row = Mapping[str, Any]


def equivalent_flue_height(
    *,
    height: Q,
    equivalent_size: str,
    inlet_size: str | None = None,
    outlet_size: str | None = None,
    parts: tuple[Row, ...],
    ref: InForce,
) -> dict[str, Q | None]:
    """Height of a straight pipe with the pull of the actual flue, by the equivalent height method.

    Args:
        height: From the appliance's outlet to the terminal, straight up. [m]
        equivalent_size: Bore of the straight pipe, that of the appliance's outlet.
        inlet_size: Bore at the inlet of the actual flue; None for that of the straight pipe.
        outlet_size: Bore at its outlet; None for that of the straight pipe.
        parts: Rows of component with size, length or count, or with its own resistance. [m]
        ref: Uses the tables of flue resistance.

    Returns:
        pipe_ends: Resistance of inlet and outlet of the straight pipe.
        pipe_by_length: Resistance of a metre of it. [1/m]
        flue_ends: Resistance of inlet and outlet of the actual flue.
        part: Resistance of each part.
        parts_resistance: Resistance of all the parts of the actual flue.
        spare_resistance: What the equivalent height is divided by.
        equivalent_height: Height of the pipe with the same pull; None if no height has it. [m]

    Raises:
        Impossible: No resistance is held for a component of that size.

    Not covered: flues with a fan, balanced flues, shared flues, and the cooling of a flue outside.

    >>> from calcs.engine.units import Quantity
    >>> from calcs.engine.worked_example import in_force
    >>> ends = [{"component": end, "size": "100 mm", "resistance": "2"} for end in ENDS]
    >>> metre = [{"size": "100 mm", "resistance": "1 m**-1"}]
    >>> ref = in_force({}, {"flue_resistance_of_fittings": ends, "flue_resistance_of_pipe": metre})
    >>> pipe = {"component": "pipe", "size": "round_100", "length": Quantity(4, "m"), "row": 1}
    >>> own = {"component": "own", "resistance": Quantity(4, ""), "row": 2}
    >>> found = equivalent_flue_height(
    ...     height=Quantity(4, "m"), equivalent_size="round_100", parts=(pipe, own), ref=ref
    ... )
    >>> found["equivalent_height"].magnitude
    2.0
    """
    pipe_ends = _ends(equivalent_size, equivalent_size, ref)
    flue_ends = _ends(inlet_size or equivalent_size, outlet_size or equivalent_size, ref)
    pipe_by_length = _figure("pipe", equivalent_size, "equivalent_size", ref)
    each = {f"part_{row['row']}": _part(row, ref) for row in parts}
    for name, resistance in each.items():
        resistance.name, resistance.label = name, f"part {name.removeprefix('part_')}"
    parts_resistance = sum(list(each.values())[1:], start=next(iter(each.values())))
    spare_resistance = flue_ends - (pipe_by_length * height).to("") + parts_resistance
    found: dict[str, Q | None] = {
        "pipe_ends": pipe_ends,
        "pipe_by_length": pipe_by_length,
        "flue_ends": flue_ends,
        **each,
        "parts_resistance": parts_resistance,
        "spare_resistance": spare_resistance,
    }
    if spare_resistance.magnitude > 0:
        found["equivalent_height"] = height * pipe_ends / spare_resistance
    return found


def _ends(inlet: str, outlet: str, ref: InForce) -> Q:
    return _figure(ENDS[0], inlet, "inlet_size", ref) + _figure(ENDS[1], outlet, "outlet_size", ref)


def _part(row: Row, ref: InForce) -> Q:
    """Resistance of one row: by the metre, by the piece, or as typed."""
    place, component = f"parts[{row['row'] - 1}]", row["component"]
    if component == OWN_PART:
        return row["resistance"].to("")
    figure = _figure(component, row.get("size"), f"{place}.size", ref)
    if component in LONG:
        return (figure * row["length"]).to("")
    count = row.get("count")
    return figure * (Quantity(1.0, "") if count is None else count)


def _figure(component: str, size: str | None, field: str, ref: InForce) -> Q:
    """Figure of a table for a component and a size: of a metre, or of one piece.

    Raises:
        Impossible: The table has no such row.
    """
    table, column = FITTINGS, "resistance"
    if component == "pipe":
        table = PIPE
    elif component in IN_BLOCKS:
        table, column = BLOCKS, "resistance_by_length" if component in LONG else "resistance"
    wanted = re.findall(r"\d+", size or "")
    rows = [row for row in ref.rows(table) if row.get("component", component) == component]
    for row in rows:
        if not wanted or re.findall(r"\d+", row["size"]) == wanted:
            label = f"{component.replace('_', ' ')} {row['size'] if wanted else ''}".strip()
            return ref.cell(table, row[column], label)
    listed = ", ".join(row["size"] for row in rows)
    raise Impossible(field, "size_not_held", sizes=listed)


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: InForce) -> list[Finding]:
    """The equivalent height against the least for the appliance, and the parts by themselves."""
    name = f"flue.equivalent_height_low.{given['appliance']}"
    least = ref[name]
    if (before := given["vertical_before_bend"]) is not None and si(before) > si(given["height"]):
        raise Impossible("vertical_before_bend", "more_than_the_height")
    if _do_not_reach(given):
        findings: list[Finding] = [Ruling("height", "not_judged", "parts_too_short", (name,))]
    elif "equivalent_height" in answers:
        found = answers["equivalent_height"]
        findings = [Compare("height", found, least, None, (name,), "m", 2)]
    else:
        findings = [Ruling("height", "meets", "beyond", (name,))]
    if (upright := given["vertical_before_bend"]) is not None:
        findings.append(Compare("upright", upright, ref[UPRIGHT], None, (UPRIGHT,), "mm", 0))
    if any(row["component"] == "bend_90" for row in given["parts"]):
        sharpest = ref[SHARPEST]
        values = {"sharpest": join_unit(f"{sharpest.magnitude:g}", sharpest.units)}
        findings.append(Note("sharp_bend", values))
    rows: tuple[Mapping[str, Cell], ...] = tuple(
        {
            "part_row": float(row["row"]),
            "part_resistance": float(answers[f"part_{row['row']}"].magnitude),
        }
        for row in given["parts"]
    )
    return [*findings, Table("resistances", rows)]


def _do_not_reach(given: Mapping[str, Any]) -> bool:
    """Whether the straight parts are so much shorter than the flue is high that one is missing.

    Bends and a terminal add some height of their own. So may a part with its own resistance, which
    has at least that of the widest flue of the tables over the height that it is to make up.
    """
    along = math.fsum(si(row["length"]) for row in given["parts"] if row["component"] in LONG)
    own = [si(row["resistance"]) for row in given["parts"] if row["component"] == OWN_PART]
    short = LEAST_RATIO * si(given["height"]) - along
    return math.fsum(own) < LEAST_OF_A_METRE * short if own else short > 0


ENDS = ("inlet", "outlet")
UPRIGHT, SHARPEST = "flue.vertical_before_bend", "flue.bend_sharpest"
OWN_PART = "own"
LEAST_OF_A_METRE = 0.02  # resistance of a metre of the widest flue in the tables
LONG = ("pipe", "block", "brick")
SIZED = ("bend_90", "bend_45", "block_bend", "ridge_terminal", "gc1_terminal")
ANY_SIZE = ("raking_block", "adaptor_block")
IN_BLOCKS = ("block", "brick", "block_bend", *ANY_SIZE)
ROUND = ("round_100", "round_125", "round_150")
BLOCK_SIZES = (
    "block_197_67", "block_231_65", "block_317_63", "block_140_102", "block_200_75", "block_183_90",
    "brick_213_213",
)  # fmt: skip

CALCULATOR = Calculator(
    formula=equivalent_flue_height,
    inputs=(
        Choice("appliance", ("warm_air", "gas_fire", "other")),
        Input("height", "m", low=0.3, high=100, also=("ft", "mm"), uncertainty=WRITTEN),
        Choice("equivalent_size", ROUND, default="round_125"),
        Choice("inlet_size", ROUND, optional=True),
        Choice("outlet_size", ROUND, optional=True),
        Rows(
            "parts",
            (
                Choice("component", (*LONG, *SIZED, *ANY_SIZE, OWN_PART)),
                Choice("size", (*ROUND, *BLOCK_SIZES), when=When("component", (*LONG, *SIZED))),
                Input(
                    "length",
                    "m",
                    low=0.01,
                    high=100,
                    also=("mm", "ft"),
                    when=When("component", LONG),
                    uncertainty=WRITTEN,
                ),
                Input(
                    "count",
                    "",
                    low=1,
                    high=50,
                    optional=True,
                    when=When("component", (*SIZED, *ANY_SIZE)),
                    uncertainty=COUNTED,
                ),
                Input(
                    "resistance",
                    "",
                    low=LEAST_OF_A_METRE,  # no part is without any
                    high=100,
                    when=When("component", (OWN_PART,)),
                    uncertainty=STATED,
                ),
            ),
            low=1,
            high=30,
        ),
        Input(
            "vertical_before_bend",
            "mm",
            low=0,
            high=20000,
            also=("m", "ft"),
            optional=True,
            uncertainty=WRITTEN,
        ),
    ),
    outputs=(
        Output("equivalent_height", "m", places=2),
        Output("parts_resistance", "", places=2),
        Output("flue_ends", "", places=2),
        Output("pipe_ends", "", places=2),
    ),
    sources=(Cite("bs_5440_1", "annex on the equivalent height of open flues"),),
    uses=("flue.equivalent_height_low.*", UPRIGHT, SHARPEST, PIPE, BLOCKS, FITTINGS),
    judge=judge,
    verdicts=("height", "upright"),
    notes=("sharp_bend",),
    rulings=("beyond", "parts_too_short"),
    refusals=("size_not_held", "more_than_the_height"),
    tables=(
        TableShape("resistances", (Output("part_row", "", 0), Output("part_resistance", "", 2))),
    ),
)
