"""What an installation holds: meters, pipes and fittings, by the tables of the tightness test."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from operator import add
from typing import Any

from calcs.domain.pipes.pipe_catalogue import MATERIALS, TABLES, bores, millimetres
from calcs.engine.declarations import STATED, WRITTEN, Choice, Input, Rows, When
from calcs.engine.errors import Impossible, Missing
from calcs.engine.rounding import short_number
from calcs.engine.traced import named, si
from calcs.engine.units import Q, Quantity, join_unit, parse_unit

SMALL_METERS = ("none", "ultrasonic_e6", "diaphragm_u6_g4", "diaphragm_u16_g10")
METERS = (
    *SMALL_METERS,
    "diaphragm_u25_g16",
    "diaphragm_u40_g25",
    "diaphragm_u65_g40",
    "diaphragm_u100_g65",
    "diaphragm_u160_g100",
)
GASES = ("natural_gas", "lpg_air", "propane", "butane")
OTHER = "other"
LITRES = 1000.0  # in a cubic metre
# A metre of pipe of the tables holds from 0.6 to 1.5 times what a round bore of its nominal size
# would. What is three times as much or as little is another pipe, or another unit.
UNLIKE = 3.0
PER_METRE = parse_unit("litre/m")
PIPES = (
    Choice("material", (*MATERIALS, OTHER), default="copper"),
    Input("size", "mm", low=4, high=400, uncertainty=STATED),
    Input("length", "m", low=0.01, high=2000, also=("ft",), uncertainty=WRITTEN),
    Input(
        "volume_per_metre",
        "litre/m",
        0.001,
        200,
        ("m**3/m",),
        when=When("material", (OTHER,)),
        uncertainty=STATED,
    ),
)
USES = ("meter_volumes", "pipe_volumes", *TABLES.values(), "installation_volume.fittings_share")


def pipe_rows(when: When | None = None, low: int = 0, good_to: str | None = None) -> Rows:
    """The table of pipes as a form asks for it.

    Args:
        when: As for `Rows`.
        low: As for `Rows`.
        good_to: Input that says how good the lengths are, where the form has one.
    """
    columns = tuple(
        replace(one, good_to=good_to) if isinstance(one, Input) and one.name == "length" else one
        for one in PIPES
    )
    return Rows("sections", columns, low=low, when=when)


@dataclass(frozen=True)
class Section:
    """One pipe of the installation.

    Args:
        row: Number that the reader sees beside it.
        size: Nominal size, in mm.
        per_metre: Volume of a metre that counts.
        geometric: Volume of a metre by its bore; None for a pipe of no table.
        by_table: Whether the published table has it.
    """

    row: int
    material: str
    size: float
    length: Q
    per_metre: Q
    geometric: Q | None
    by_table: bool


def sections_of(rows: Sequence[Mapping[str, Any]], ref: Any) -> list[Section]:
    """Every pipe with the volume of a metre of it.

    Raises:
        Impossible: No table has a size.
    """
    used = {row["material"] for row in rows}
    published = {
        (row["material"], millimetres(row["size"])): row["volume"]
        for row in (ref.rows("pipe_volumes") if used - {OTHER} else ())
    }
    known = {material: bores(material, ref) for material in MATERIALS if material in used}
    return [
        _section(row.get("row", place + 1), row, published, known, ref)
        for place, row in enumerate(rows)
    ]


def _by_bore(bore: float, spread: float) -> Q:
    """Volume of a metre of pipe by its bore and the bore's standard uncertainty, in metres."""
    volume = Quantity(math.pi * bore * bore / 4 * LITRES, PER_METRE)
    found = named(volume, "by_bore", "volume of a metre by its bore", role="figure")
    found.standard_uncertainty = Quantity(math.pi * bore / 2 * spread, parse_unit("m**3/m"))
    return found


def _section(
    number: int,
    row: Mapping[str, Any],
    published: Mapping[tuple[str, float], str],
    known: Mapping[str, Mapping[float, tuple[float, float]]],
    ref: Any,
) -> Section:
    material, size = row["material"], round(si(row["size"]) * 1000, 6)
    text = published.get((material, size))
    bore = known.get(material, {}).get(size)
    geometric = None if bore is None else _by_bore(*bore)
    if text is not None:
        per_metre = ref.cell("pipe_volumes", text, f"{size:g} mm {material}").to(PER_METRE)
    elif material == OTHER:
        per_metre = row["volume_per_metre"].to(PER_METRE)
        _check_per_metre(number, per_metre, size)
    elif geometric is not None:
        per_metre = geometric
    else:
        sizes = {each for kind, each in published if kind == material} | set(known[material])
        listed = ", ".join(f"{one:g}" for one in sorted(sizes))
        field = f"sections[{number - 1}].size"
        raise Impossible(field, "no_such_size", sizes=listed)
    label = f"volume of a metre, row {number}"
    return Section(
        row=number,
        material=material,
        size=size,
        length=row["length"],
        per_metre=named(per_metre, f"per_metre_{number}", label, role="figure"),
        geometric=geometric,
        by_table=text is not None,
    )


def _check_per_metre(number: int, typed: Q, size: float) -> None:
    """Refuse a volume of a metre that no pipe of that size has: a slip of unit or of a nought.

    Raises:
        Impossible: It is so far from that of a round bore of the size.
    """
    bore = math.pi * size * size / 4 / LITRES  # litres in a metre, from millimetres
    share = float(typed.magnitude) / bore
    if not 1 / UNLIKE <= share <= UNLIKE:
        about = join_unit(short_number(bore, 2), PER_METRE)
        field = f"sections[{number - 1}].volume_per_metre"
        raise Impossible(field, "volume_unlike_the_size", size=f"{size:g}", about=about)


def meter_volume(meters: Sequence[str], ref: Any) -> Q | None:
    """Volume of the meters by the table; None where there is none."""
    volumes = {row["meter"]: (row["title"], row["volume"]) for row in ref.rows("meter_volumes")}
    found = [
        ref.cell("meter_volumes", volumes[meter][1], volumes[meter][0])
        for meter in meters
        if meter != "none"
    ]
    return reduce(add, found) if found else None


def check_volume(typed: Q | None, meter: str | None, ref: Any) -> None:
    """Refuse a volume of the whole installation that its meter alone would fill.

    Raises:
        Impossible: It is less than the meter holds.
    """
    if typed is None or meter is None:
        return
    held = meter_volume([meter], ref)
    if held is not None and si(typed) < si(held) * (1 - 1e-9):
        least = join_unit(short_number(float(held.to("m**3").magnitude), 4), "m**3")
        raise Impossible("installation_volume", "less_than_the_meter", least=least)


def volumes(
    meters: Sequence[str],
    rows: Sequence[Mapping[str, Any]],
    ref: Any,
) -> dict[str, Q | None]:
    """Volume of meters, pipes and fittings, and their sum.

    Args:
        meters: Kinds of meter, "none" for no meter.
        rows: Pipes as the reader filled them.
        ref: Figures in force.
    """
    meter = meter_volume(meters, ref)
    sections = sections_of(rows, ref)
    pipe = fittings = None
    if sections:
        pipe = reduce(add, ((one.length * one.per_metre).to("m**3") for one in sections))
        fittings = (pipe * ref["installation_volume.fittings_share"]).to("m**3")
    parts = [part for part in (meter, pipe, fittings) if part is not None]
    return {
        "meter_volume": meter,
        "pipe_volume": pipe,
        "fittings_volume": fittings,
        "installation_volume": reduce(add, parts) if parts else None,
    }


def volume_under_test(
    volume_from: str,
    meter: str | None,
    sections: Sequence[Mapping[str, Any]],
    typed: Q | None,
    ref: Any,
) -> dict[str, Q | None]:
    """The volume that was typed, or worked out from meter and pipes.

    Raises:
        Missing: Nothing says which meter there is.
        Impossible: What was typed is less than the meter holds, or no table has a pipe's size.
    """
    if volume_from != "pipework":
        check_volume(typed, meter, ref)
        return {"tested_volume": typed}
    if meter is None:
        raise Missing("meter", "meter_needed")
    found = volumes([meter], sections, ref)
    found["tested_volume"] = found.pop("installation_volume")
    return found
