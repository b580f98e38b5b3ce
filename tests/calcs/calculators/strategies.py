"""Inputs drawn from what each calculator declares, for properties that hold for all of them."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from calcs.engine.declarations import (
    COUNTED,
    AnyInput,
    Calculator,
    Choice,
    Day,
    Input,
    Instrument,
    Rows,
)
from calcs.engine.registry import OWN, all_inputs

Typed = dict[str, Any]
# What a finger, a paste or a foreign keyboard may put into a field.
NONSENSE = st.sampled_from(
    ["", " ", "x", "nan", "inf", "-inf", "1e999", "0,5", "1 2", "\uff11\uff12", "1_000", "--3", "½",
     "3 furlongs", "2 m m", "5 m^(9^9^9)", "5 cups", "1,234", "80,00",
     "<b>1</b>", "1;2", "0x10", "1e5e5", "٣", "5 mbar mbar", "9" * 400]
)  # fmt: skip


def inputs(calculator: Calculator, reference: Any) -> st.SearchStrategy[dict[str, Typed]]:
    """Inputs that the form would accept, each by its own range, with `when` respected."""
    return st.composite(_draw)(calculator, reference)


def _draw(draw: Any, calculator: Calculator, reference: Any) -> dict[str, Typed]:
    found: dict[str, Typed] = {}
    chosen: dict[str, str | None] = {}
    known = all_inputs(calculator)
    for item in known:
        if isinstance(item, Choice | Instrument) and _counts(item, chosen):
            chosen[item.name] = draw(st.sampled_from(_options(item, reference)))
            found[item.name] = {"value": chosen[item.name]}
    for item in known:
        if isinstance(item, Choice | Instrument) or not _counts(item, chosen):
            continue
        if (typed := _one(draw, item)) is not None:
            found[item.name] = typed
    return found


def _options(item: Choice | Instrument, reference: Any) -> list[str]:
    if isinstance(item, Choice):
        return list(item.options)
    offered = [
        name
        for name, one in reference.instruments.items()
        if item.measures in ("*", one["measures"])
    ]
    return [*offered, OWN]


def _counts(item: AnyInput, chosen: dict[str, str | None]) -> bool:
    when = getattr(item, "when", None)
    return when is None or chosen.get(when.input) in when.options


def _one(draw: Any, item: AnyInput) -> Typed | None:
    if isinstance(item, Day):
        day = draw(st.none() | st.dates().map(lambda day: day.isoformat()))
        return None if day is None else {"value": day}
    if isinstance(item, Rows):
        count = draw(st.integers(item.low, min(item.high, item.low + 3)))
        return {"rows": [_row(draw, item) for _ in range(count)]}
    if not isinstance(item, Input) or (item.optional and draw(st.booleans())):
        return None
    return {"value": repr(draw(quantities(item))), "unit": item.unit}


def _row(draw: Any, item: Rows) -> Typed:
    row: Typed = {}
    chosen: dict[str, str | None] = {}
    for column in item.columns:
        if isinstance(column, Choice):
            chosen[column.name] = draw(st.sampled_from(column.options))
            row[column.name] = {"value": chosen[column.name]}
    for column in item.columns:
        if not isinstance(column, Input) or not _counts(column, chosen):
            continue
        if (typed := _one(draw, column)) is not None:
            row[column.name] = typed
    return row


def quantities(item: Input) -> st.SearchStrategy[float]:
    """Numbers in the range that the form accepts; whole ones of what is counted."""
    if item.uncertainty == COUNTED:
        return st.integers(int(item.low), int(item.high)).map(float)
    return st.floats(item.low, item.high, allow_nan=False, allow_subnormal=False)
