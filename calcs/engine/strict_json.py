"""JSON as a script sends it, read strictly: what two readers could take differently is refused."""

from __future__ import annotations

import json
from typing import Any


class NotJson(Exception):
    """A text that is not plain JSON. Its message is for the person who sent it."""


class NumberText(str):
    """A JSON number with the digits that it was written with: 1.50 is good to two places."""

    __slots__ = ()


def loads(text: str) -> Any:
    """Value of a JSON text, its numbers as `NumberText`.

    Raises:
        NotJson: It is not JSON, has a name twice in one object, NaN or infinity, half a character,
            or is nested deeper than can be followed.

    >>> loads('{"volume": 1.50}')
    {'volume': '1.50'}
    """
    try:
        value = json.loads(
            text,
            object_pairs_hook=_once_each,
            parse_constant=_no_number,
            parse_float=NumberText,
            parse_int=NumberText,
        )
        # An escape such as \ud800 alone is half a character, which no text can be written with.
        json.dumps(value, ensure_ascii=False).encode("utf-8")
    except json.JSONDecodeError as problem:
        raise NotJson(f"This is not JSON: {problem.msg}, at character {problem.pos + 1}.") from None
    except UnicodeEncodeError:
        raise NotJson("This has half a character in it (a lone surrogate).") from None
    except RecursionError:
        raise NotJson("This is nested too deep to be a request.") from None
    return value


def _once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, value in pairs:
        if name in found:
            raise NotJson(f"“{name[:40]}” stands twice in one object. Write it once.")
        found[name] = value
    return found


def _no_number(name: str) -> Any:
    raise NotJson(f"{name} is no JSON number.")
