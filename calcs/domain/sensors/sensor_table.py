"""A sensor's table of resistances as its maker prints it, read between its rows."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from calcs.domain.gas.gas_mixture import plain
from calcs.engine.curves import straight_line
from calcs.engine.errors import Impossible
from calcs.engine.in_force import InForce
from calcs.engine.traced import si
from calcs.engine.traced_functions import apply
from calcs.engine.units import Q

TABLE = "sensor_resistances"
# Logarithm of the resistance and one over the temperature, from cold to hot. Between two rows a
# sensor by its constant B is a straight line in these.
Curve = tuple[tuple[float, float], ...]


def table_of(typed: Sequence[Mapping[str, Any]] | None, ref: InForce) -> Curve:
    """The table that the reader typed, or the one that is held; empty for neither.

    Raises:
        Impossible: A row has no more resistance than a warmer one, or one row stands alone.
    """
    if typed:
        rows = [(si(row["temperature"]), si(row["resistance"]), row["row"]) for row in typed]
    elif ref.held(TABLE):
        held = ref.rows(TABLE)
        cells = [[plain(row[name]) for name in ("temperature", "resistance")] for row in held]
        rows = [(kelvin, ohms, place) for place, (kelvin, ohms) in enumerate(cells, start=1)]
    else:
        return ()
    rows.sort()
    if len(rows) == 1:
        raise Impossible("maker_table", "one_row")
    for (_, more, _), (_, less, place) in pairwise(rows):
        if less >= more:
            field = f"maker_table[{place - 1}].resistance"
            raise Impossible(field, "not_below_a_colder_row")
    return tuple((math.log(ohms), 1 / kelvin) for kelvin, ohms, _ in rows)


def temperature_by_table(curve: Curve, resistance: Q) -> Q | None:
    """Temperature of a resistance by the table; None outside it."""
    ascending = tuple(reversed(curve))

    def kelvin(ohms: float) -> float:
        return 1 / straight_line(ascending, math.log(ohms))

    if not ascending or not ascending[0][0] <= math.log(si(resistance)) <= ascending[-1][0]:
        return None
    return apply("temperature by the table at", kelvin, resistance, unit="kelvin").to("degC")


def resistance_by_table(curve: Curve, temperature: Q) -> Q | None:
    """Resistance at a temperature by the table; None outside it."""
    inverses = [inverse for _, inverse in curve]
    if not curve or not min(inverses) <= 1 / si(temperature) <= max(inverses):
        return None
    name = "resistance by the table at"
    return apply(name, lambda kelvin: ohms_at(curve, kelvin), temperature, unit="ohm")


def ohms_at(curve: Curve, kelvin: float) -> float:
    """Plain resistance at a plain temperature, between the rows of the table."""
    ascending = sorted((inverse, logarithm) for logarithm, inverse in curve)
    return math.exp(straight_line(ascending, 1 / kelvin))
