"""The form of a request: each part of the JSON type that it must have, or refused by its name."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from calcs.engine.request_errors import NotANumber, WrongForm

LONGEST = 200  # characters of one value; what is longer is no reading
A_VALUE = 'a text such as "0.088", alone or as {"value": "0.088", "unit": "…"}'
A_TABLE = '{"rows": [{…}, …]}, each row an object'
_KINDS = {
    type(None): "null", bool: "true or false", int: "a number", float: "a number", str: "a text",
    list: "a list", tuple: "a list",
}  # fmt: skip


def kind_of(value: Any) -> str:
    """What JSON calls a value, for a message."""
    return _KINDS.get(type(value), "an object")


def text_of(name: str, entered: Any) -> str:
    """What was typed in one field, without the spaces around it; empty for nothing.

    Args:
        name: Name of the field, for the message.
        entered: A text, a number, nothing, or an object with such a `value` and with a `unit`.

    Raises:
        WrongForm: It is none of these.
        NotANumber: It is too long to be a reading.
    """
    # dict, not Mapping: asking whether something is one of those is slow, and JSON has no other.
    if isinstance(entered, dict):
        _check_keys(name, entered, ("value", "unit"), A_VALUE)
        unit = entered.get("unit")
        if unit is not None and not isinstance(unit, str):
            raise WrongForm(name, found=kind_of(unit), expected='in a "unit" that is a text')
        entered = entered.get("value")
    if isinstance(entered, str):
        text = entered.strip()
        if len(text) > LONGEST:
            raise NotANumber(name, found=text)
        return text
    if entered is None:
        return ""
    if isinstance(entered, bool) or not isinstance(entered, int | float):
        raise WrongForm(name, found=kind_of(entered), expected=A_VALUE)
    if isinstance(entered, float) and not math.isfinite(entered):
        raise NotANumber(name, found=str(entered))
    return repr(entered) if abs(entered) < 1e300 else "1e999"


def rows_of(name: str, entered: Any) -> list[Mapping[str, Any]]:
    """The rows of a table; null or nothing is no row.

    Raises:
        WrongForm: It is no table, or one of its rows no row.
    """
    if entered is None or entered == "":
        return []
    if not isinstance(entered, dict):
        raise WrongForm(name, found=kind_of(entered), expected=A_TABLE)
    if "rows" not in entered and not text_of(name, entered):
        return []
    _check_keys(name, entered, ("rows",), A_TABLE)
    rows = entered.get("rows")
    if rows is None:
        return []
    if not isinstance(rows, list):
        raise WrongForm(name, found=kind_of(rows), expected="a list of rows")
    for place, row in enumerate(rows):
        if row is not None and not isinstance(row, dict):
            raise WrongForm(f"{name}[{place}]", found=kind_of(row), expected="an object of cells")
    return [row or {} for row in rows]


def _check_keys(name: str, entered: Mapping[str, Any], known: tuple[str, ...], form: str) -> None:
    strange = next((key for key in entered if key not in known), None)
    if strange is not None:
        raise WrongForm(name, found=f"an object with “{strange[:40]}”", expected=form)
