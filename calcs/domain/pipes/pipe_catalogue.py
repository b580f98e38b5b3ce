"""Tubes and fittings by the tables in force: bore, how far it may be off, and added lengths."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from calcs.engine.errors import Impossible, NotHeld
from calcs.engine.traced import si
from calcs.engine.units import parse_quantity

TABLES = {"copper": "copper_tube", "steel": "steel_tube", "polyethylene": "polyethylene_pipe"}
MATERIALS = tuple(TABLES)
# Column of a row of sections to the word in the table of added lengths.
FITTINGS = {"elbows": "elbow_90", "bends": "bend_90", "half_bends": "bend_45", "tees": "tee"}
LENGTHS = "fitting_lengths"


@dataclass(frozen=True)
class Tube:
    """One size of one material, in metres.

    Args:
        size: Nominal size, in mm.
        bore_uncertainty: Standard uncertainty of the bore, from the standard's tolerances.
    """

    material: str
    size: float
    bore: float
    roughness: float
    bore_uncertainty: float = 0.0

    @property
    def text(self) -> str:
        """Size and material."""
        return f"{self.size:g} mm {self.material}"


def tubes(material: str, ref: Any) -> dict[float, Tube]:
    """Every size of a material by its nominal size in mm, smallest first."""
    roughness = si(ref[f"pipe.roughness.{material}"])
    found: dict[float, Tube] = {}
    for size, (bore, spread) in sorted(bores(material, ref).items()):
        found[size] = Tube(material, size, bore, roughness, spread)
    return found


def bores(material: str, ref: Any) -> dict[float, tuple[float, float]]:
    """Bore and its standard uncertainty in metres, by nominal size in mm.

    Where a size comes with two walls, the first in the table counts: the usual one.
    """
    table = TABLES[material]
    found: dict[float, tuple[float, float]] = {}
    for row in ref.rows(table):
        spread = _bore_uncertainty(row)
        found.setdefault(millimetres(row["size"]), (cell(row["bore"]), spread))
    return found


@lru_cache(maxsize=512)
def cell(text: str) -> float:
    """Plain number in SI base units of a cell of a table."""
    return si(parse_quantity(text))


def millimetres(text: str) -> float:
    """Nominal size of a cell of a table, in mm."""
    return round(cell(text) * 1000, 6)


def _bore_uncertainty(row: Mapping[str, str]) -> float:
    """The bore is the diameter less two walls; each tolerance is a half-width (JCGM 100, 4.3.7)."""
    diameter = cell(row["diameter_tolerance"])
    walls = 2 * _wall_tolerance(row["wall_tolerance"], row["wall"])
    return math.sqrt(diameter * diameter + walls * walls) / math.sqrt(3)


@lru_cache(maxsize=512)
def _wall_tolerance(text: str, wall: str) -> float:
    """In metres. Some standards print it as a share of the wall, some as a length."""
    tolerance = parse_quantity(text)
    return si(tolerance) * (cell(wall) if tolerance.dimensionless else 1.0)


def tube_of(sizes: Mapping[float, Tube], size: Any, field: str) -> Tube:
    """The tube of a nominal size that was typed.

    Raises:
        Impossible: The material has no such size.
    """
    nominal = round(si(size) * 1000, 6)
    if nominal not in sizes:
        listed = ", ".join(f"{known:g}" for known in sizes)
        raise Impossible(field, "no_such_size", sizes=listed)
    return sizes[nominal]


class AddedLengths:
    """What fittings count as, in metres of pipe.

    Args:
        ref: Figures in force.
        earlier: Take the edition before the one in force.
    """

    def __init__(self, ref: Any, *, earlier: bool) -> None:
        if earlier:
            ref.use_previous_edition(LENGTHS)
        dated_value = ref.dated_value(LENGTHS)
        self._where = f"{dated_value.source_text}, {dated_value.edition}"
        self._lengths = {
            (row["fitting"], millimetres(row["size"])): cell(row["length"])
            for row in ref.rows(LENGTHS)
        }

    def of(self, row: Mapping[str, Any], tube: Tube) -> float | None:
        """Total for the fittings counted in a row; None where one of them is not held."""
        total = 0.0
        for column, word in FITTINGS.items():
            if row.get(column) is None or not row[column].magnitude:
                continue
            length = self._lengths.get((word, tube.size)) if tube.material == "copper" else None
            if length is None:
                return None
            total += float(row[column].magnitude) * length
        return total

    def refusal(self, row: Mapping[str, Any], tube: Tube) -> NotHeld:
        """What the reader is told about the first fitting that is not held in that tube."""
        place = row["row"] - 1
        for column, word in FITTINGS.items():
            if row.get(column) is None or not row[column].magnitude:
                continue
            if tube.material != "copper" or (word, tube.size) not in self._lengths:
                break
        field = f"sections[{place}].{column}"
        return NotHeld(field, "added_length_not_held", tube=tube.text, where=self._where)
