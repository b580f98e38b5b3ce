"""One test of all rows of a calculator, for what holds of every row: a test each would cost more.

`test_tables.py` tries each row by its own name. What else is asked of a row is told with its id.
"""

from __future__ import annotations

import inspect
from collections import defaultdict
from collections.abc import Callable, Iterable
from functools import wraps
from typing import Any

import pytest

from tests.tables.rows import Row


def every_row(chosen: Iterable[Row]) -> Callable[[Callable[..., None]], Any]:
    """Makes of a test that takes `row` one of each calculator. It tells all rows that fail."""
    by_calculator: dict[str, list[Row]] = defaultdict(list)
    for row in chosen:
        by_calculator[row.calculator].append(row)

    def made(test: Callable[..., None]) -> Any:
        @wraps(test)
        def tried(own: list[Row], **fixtures: Any) -> None:
            failed = []
            for row in own:
                try:
                    test(row=row, **fixtures)
                except Exception as fault:  # noqa: BLE001  told below, with its row
                    fault.add_note(f"Row {row.id}")
                    failed.append(fault)
            if failed:
                raise ExceptionGroup("Not so of every row", failed)

        takes = inspect.signature(test)
        fixtures = [each for name, each in takes.parameters.items() if name != "row"]
        own = inspect.Parameter("own", inspect.Parameter.POSITIONAL_OR_KEYWORD)
        tried.__signature__ = takes.replace(parameters=[own, *fixtures])  # type: ignore[attr-defined]
        groups = [pytest.param(rows, id=calculator) for calculator, rows in by_calculator.items()]
        return pytest.mark.parametrize("own", groups)(tried)

    return made
