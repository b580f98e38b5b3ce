"""One test of all rows of a calculator: a test each would cost more."""

from __future__ import annotations

from collections.abc import Iterable

from tests.every_case import Decorator, every_case_of
from tests.tables.rows import Row


def every_row(chosen: Iterable[Row]) -> Decorator:
    """Makes of a test that takes `row` one of each calculator. It tells all rows that fail."""
    return every_case_of("row", chosen, of=lambda row: row.calculator, ids=lambda row: row.id)
