"""Installation volume: meter, pipes and fittings, and whether the small procedure covers it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import reduce
from operator import add
from typing import Any

from calcs.domain.pipes.installation import (
    GASES,
    LITRES,
    METERS,
    USES,
    pipe_rows,
    sections_of,
    volumes,
)
from calcs.engine.declarations import (
    STATED,
    Calculator,
    Choice,
    Cite,
    Input,
    Output,
    Rows,
    TableShape,
)
from calcs.engine.errors import Missing
from calcs.engine.findings import Compare, Finding, Note, Ruling, Table
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded, expanded_of_readings
from calcs.engine.units import Q, Quantity, parse_quantity

SECTIONS = TableShape(
    "sections",
    (
        Output("section", "", places=0),
        Output("pipe", "", places=0),
        Output("length", "m", places=2),
        Output("by_table", "litre/m", places=3),
        Output("by_bore", "litre/m", places=4),
        Output("volume", "litre", places=3),
    ),
)


def installation_volume(
    *,
    meters: Sequence[Mapping[str, Any]],
    sections: Sequence[Mapping[str, Any]],
    ref: Any,
) -> dict[str, Q | None]:
    """Volume of gas that an installation holds, by the tables of the tightness test.

    Args:
        meters: Rows: kind of each meter.
        sections: Rows: material, size and length of each pipe.
        ref: Uses `meter_volumes`, `pipe_volumes`, the tubes and the share for fittings.

    Returns:
        per_metre: Volume of a metre of the pipe of a row. [litre/m]
        meter_volume: Volume of the meters. [m**3]
        pipe_volume: Volume of the pipes. [m**3]
        fittings_volume: What the fittings count as. [m**3]
        installation_volume: All together. [m**3]
        volume_by_bore: All together, with the pipes by their bore. [m**3]

    Raises:
        Impossible: No table has a size.
        Missing: Neither a meter nor a pipe was given.

    Not covered: gas in appliances, and rotary or turbine meters, which count as their length of
    pipe.

    >>> class Ref(dict):
    ...     def rows(self, table):
    ...         return [{"meter": "diaphragm_u6_g4", "title": "G4", "volume": "0.008 m³"}]
    ...
    ...     def cell(self, table, text, label):
    ...         return parse_quantity(text)
    >>> ref = Ref({"installation_volume.fittings_share": Quantity(10, "percent")})
    >>> pipe = {
    ...     "material": "other",
    ...     "size": Quantity(15, "mm"),
    ...     "length": Quantity(9, "m"),
    ...     "volume_per_metre": Quantity(0.14, "litre/m"),
    ... }
    >>> found = installation_volume(meters=[{"meter": "diaphragm_u6_g4"}], sections=[pipe], ref=ref)
    >>> round(found["installation_volume"].to("m**3").magnitude, 9)
    0.009386
    """
    found = volumes([row["meter"] for row in meters], sections, ref)
    if found["installation_volume"] is None:
        raise Missing("sections", "nothing_to_add")
    return found | {"volume_by_bore": _by_bore(found, sections, ref)}


def _by_bore(
    found: Mapping[str, Q | None], rows: Sequence[Mapping[str, Any]], ref: Any
) -> Q | None:
    """For information: the table rounds. None where no bore is known for a pipe."""
    pipes = sections_of(rows, ref)
    if not pipes or any(pipe.geometric is None for pipe in pipes):
        return None
    pipe = reduce(add, ((one.length * one.geometric).to("m**3") for one in pipes))
    fittings = (pipe * ref["installation_volume.fittings_share"]).to("m**3")
    meter = found["meter_volume"]
    return pipe + fittings if meter is None else meter + pipe + fittings


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """Each bound of the small-installation procedure, and all of them together."""
    pipes = sections_of(given["sections"], ref)
    readings = {
        "volume": answers["installation_volume"],
        "bore": reduce(_larger, (Quantity(pipe.size, "mm") for pipe in pipes), None),
        "meter_badge": _badge(given["meters"], ref),
        "supply_pressure": given["supply_pressure"],
        "pressure": given["operating_pressure"],
    }
    places = {"volume": 5, "supply_pressure": 2}
    parts: list[Compare] = []
    for name, reading in readings.items():
        if reading is not None:
            figure = f"tightness.scope_{name}" + (f".{given['gas']}" if name == "pressure" else "")
            shown = places.get(name, 0 if name != "pressure" else 1)
            limit = ref[figure]
            figures = (figure, "meter_badges") if name == "meter_badge" else (figure,)
            expanded_uncertainty = expanded_of_readings(reading) if name == "volume" else None
            unit = str(limit.units)
            parts.append(
                Compare(
                    name, reading, None, limit, figures, unit, shown, expanded=expanded_uncertainty
                )
            )
    findings: list[Finding] = [_procedure(parts), *parts, _table(pipes)]
    if any(not pipe.by_table and pipe.geometric is not None for pipe in pipes):
        rows = ", ".join(f"{pipe.row}" for pipe in pipes if not pipe.by_table and pipe.geometric)
        findings.append(Note("volume_by_bore_used", {"rows": rows}))
    if pipes and all(row["meter"] == "none" for row in given["meters"]):
        findings.append(Note("no_meter"))
    if _from_memory(given["meters"], ref):
        findings.append(Note("meter_from_memory"))
    if ref.text("tightness.edition") != "3":
        findings.append(Note("tables_of_edition_3"))
    return findings


def _larger(one: Q | None, other: Q) -> Q:
    return other if one is None or other > one else one


def _badge(meters: Sequence[Mapping[str, Any]], ref: Any) -> Q | None:
    chosen = {row["meter"] for row in meters} - {"none"}
    if not chosen:
        return None
    badges = {row["meter"]: row["badge"] for row in ref.rows("meter_badges")}
    return max(parse_quantity(badges[meter]) for meter in chosen)


def _from_memory(meters: Sequence[Mapping[str, Any]], ref: Any) -> bool:
    provenances = {row["meter"]: row["provenance"] for row in ref.rows("meter_volumes")}
    return any(provenances.get(row["meter"]) == "from-memory" for row in meters)


def _procedure(parts: Sequence[Compare]) -> Ruling:
    """Inside the procedure when every bound that could be held against it is kept."""
    figures = tuple(figure for part in parts for figure in part.figures)
    outside, close = [], False
    for part in parts:
        excess = part.reading - part.high
        expanded_uncertainty = part.expanded if part.expanded is not None else expanded(excess)
        if expanded_uncertainty.magnitude and abs(excess) < expanded_uncertainty:
            close = True
        elif si(excess) > 1e-12 * si(part.high):
            outside.append(part.name)
    if outside:
        return Ruling("procedure", "does_not_meet", "outside", figures)
    if close:
        return Ruling("procedure", "cannot_tell", "close", figures)
    return Ruling("procedure", "meets", "inside", figures)


def _table(pipes: Sequence[Any]) -> Table:
    rows: list[dict[str, Any]] = []
    for pipe in pipes:
        per_metre = si(pipe.per_metre) * LITRES
        rows.append(
            {
                "section": f"{pipe.row}",
                "pipe": f"{pipe.size:g} mm {pipe.material}",
                "length": si(pipe.length),
                "by_table": per_metre if pipe.by_table else None,
                "by_bore": None if pipe.geometric is None else si(pipe.geometric) * LITRES,
                "volume": per_metre * si(pipe.length),
            }
        )
    return Table(SECTIONS.name, tuple(rows))


CALCULATOR = Calculator(
    formula=installation_volume,
    inputs=(
        Rows("meters", (Choice("meter", METERS, default="none"),), low=0, high=10),
        pipe_rows(good_to="length_accuracy"),
        Input("length_accuracy", "percent", low=0, high=50, optional=True, uncertainty=STATED),
        Choice("gas", GASES, default="natural_gas"),
        Input(
            "operating_pressure",
            "mbar",
            low=0,
            high=200,
            also=("kPa", "inWG"),
            optional=True,
            uncertainty=STATED,
        ),
        Input(
            "supply_pressure",
            "bar",
            low=0,
            high=20,
            also=("mbar", "kPa"),
            optional=True,
            uncertainty=STATED,
        ),
    ),
    outputs=(
        Output("installation_volume", "m**3", places=5),
        Output("meter_volume", "m**3", places=5),
        Output("pipe_volume", "m**3", places=5),
        Output("fittings_volume", "m**3", places=5),
        Output("volume_by_bore", "m**3", places=5),
    ),
    sources=(
        Cite("igem_up_1b_edition_3", "volume table"),
        Cite("en_1057", "bores of copper tube"),
    ),
    uses=(
        *USES,
        "tightness.scope_*",
        "tightness.scope_pressure.*",
        "meter_badges",
        "tightness.edition",
    ),
    judge=judge,
    verdicts=("procedure", "volume", "bore", "meter_badge", "supply_pressure", "pressure"),
    notes=("no_meter", "volume_by_bore_used", "meter_from_memory", "tables_of_edition_3"),
    rulings=("inside", "outside", "close"),
    refusals=("nothing_to_add", "no_such_size", "volume_unlike_the_size"),
    tables=(SECTIONS,),
)
