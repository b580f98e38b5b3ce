"""A table of two columns from the reader's own copy: what is permitted up to which size."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from calcs.engine.reference import Reference
from calcs.engine.request_errors import NotASensibleFigure, WrongForm
from calcs.engine.request_form import kind_of, text_of
from calcs.engine.traced import si
from calcs.engine.typed_number import number_at_start, without_commas
from calcs.engine.units import Q, read_quantity, unit_code

DROP = "drop"  # the column of what is permitted; the other says up to which size it holds
MOST = 40  # rows; a printed table has fewer


def can_be_typed(columns: Sequence[Any]) -> bool:
    """Whether a table has the form: how large, and the drop that is permitted up to there."""
    return len(columns) == 2 and columns[1]["name"] == DROP and all(one["unit"] for one in columns)


def typed_rows(name: str, entered: Sequence[Any], reference: Reference) -> list[list[str]]:
    """The rows as data/ writes its own.

    A leak of one size lets the pressure fall more slowly the larger the pipework is. So the drop
    that is permitted falls from row to row, and one that rises was copied wrongly.

    Raises:
        NotASensibleFigure: They can be no such table.
        WrongForm: A row is no list of two cells.
        NotANumber: No plain number stands at the start of a cell.
        WrongUnit: The unit of a cell is of another kind than its column's.
    """
    columns = reference.facts(name).get("columns", ())
    if not can_be_typed(columns):
        raise NotASensibleFigure(name, told="{this} is no table that can be typed.")
    if not 0 < len(entered) <= MOST:
        raise NotASensibleFigure(name, told=f"{{this}} must have 1 to {MOST} rows.")
    rows = [_row(f"{name}[{place}]", row, columns) for place, row in enumerate(entered)]
    for place, (above, below) in enumerate(pairwise(rows), start=1):
        if si(below[0]) <= si(above[0]):
            told = "{this}: the first figure must be greater than in the row above."
            raise NotASensibleFigure(f"{name}[{place}]", told=told)
        if si(below[1]) > si(above[1]):
            told = "{this}: the drop cannot be greater than in the row above."
            raise NotASensibleFigure(f"{name}[{place}]", told=told)
    return [[_written(cell, text) for cell, text in zip(*both, strict=True)]
            for both in zip(rows, entered, strict=True)]  # fmt: skip


def _row(field: str, row: Any, columns: Sequence[Any]) -> list[Q]:
    if not isinstance(row, list | tuple) or len(row) != len(columns):
        raise WrongForm(field, found=kind_of(row), expected=f"a list of {len(columns)} cells")
    cells = [
        read_quantity(field, text_of(field, text), column["unit"], (column["unit"],))
        for text, column in zip(row, columns, strict=True)
    ]
    if any(si(cell) <= 0 for cell in cells):
        raise NotASensibleFigure(field, told="{this} must have figures above nought.")
    return cells


def _written(cell: Q, text: Any) -> str:
    return f"{without_commas(number_at_start(str(text).strip()))} {unit_code(cell.units)}"
