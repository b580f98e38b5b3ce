"""A handful of figures for the example in a docstring."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from calcs.engine.in_force import InForce
from calcs.engine.reference import Reference

_START = "2000-01-01"


def in_force(
    values: Mapping[str, str], tables: Mapping[str, Sequence[Mapping[str, str]]] | None = None
) -> InForce:
    """Figures in force, made of a few values and tables.

    Args:
        values: Value of each figure by its name.
        tables: Rows of each table by its name; every row has the columns of the first.

    >>> ref = in_force({"air.density": "1.2 kg/m³"}, {"tubes": [{"size": "15 mm"}]})
    >>> ref["air.density"].magnitude, ref.rows("tubes")[0]["size"]
    (1.2, '15 mm')
    """
    bundle: dict[str, Any] = {
        "edition": "example",
        "instruments": {},
        "sources": {},
        "words": {},
        "figures": {
            name: {"label": name, "values": [_dated_value(value=value)]}
            for name, value in values.items()
        },
        "tables": {
            name: {
                "title": name,
                "columns": [{"name": column} for column in rows[0]],
                "values": [_dated_value(rows=[list(row.values()) for row in rows])],
            }
            for name, rows in (tables or {}).items()
        },
    }
    return InForce(Reference(bundle), date.fromisoformat(_START))


def _dated_value(**values: Any) -> dict[str, Any]:
    return {"from": _START, "provenance": "invented", **values}
