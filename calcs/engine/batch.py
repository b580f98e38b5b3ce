"""Many requests, one a line: JSON in, JSON out. A bad line costs its own reply only."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from typing import Any, BinaryIO

from calcs.engine import strict_json
from calcs.engine.reply import failed, public

LONGEST = 1_000_000  # bytes of a line; the largest table of any calculator fills a hundredth of it
PARTS = ("calculator", "inputs", "date", "overrides")
Ask = Callable[[dict[str, Any]], dict[str, Any]]


def replies(lines: BinaryIO, ask: Ask, today: str) -> Iterator[str]:
    """One reply in JSON for each line, in order, as soon as the line is there.

    Args:
        lines: Requests as UTF-8 text.
        ask: Gives the bridge's reply to a request of the bridge.
        today: Day of the test where a request names none.
    """
    is_first = True
    while line := lines.readline(LONGEST + 1):
        is_too_long = len(line) > LONGEST
        while is_too_long and not line.endswith(b"\n"):
            line = lines.readline(LONGEST)
            if not line:
                break
        if is_first:
            line, is_first = line.removeprefix(b"\xef\xbb\xbf"), False
        reply = (
            failed("too_long", f"The line is longer than {LONGEST} bytes.")
            if is_too_long
            else answer(line, ask, today)
        )
        yield json.dumps(reply, ensure_ascii=False, allow_nan=False)


def answer(line: bytes, ask: Ask, today: str) -> dict[str, Any]:
    """Reply to one line; never raises."""
    try:
        text = line.decode("utf-8").strip()
        if not text:
            return failed("not_a_request", "The line is empty. Write one request on each line.")
        asked = request(strict_json.loads(text), today)
        return public(ask(asked), asked["calculator"])
    except UnicodeDecodeError as problem:
        return failed("not_utf_8", f"The line is not UTF-8 text, from byte {problem.start + 1}.")
    except strict_json.NotJson as problem:
        return failed("not_json", str(problem))
    except _NotARequest as problem:
        return failed("not_a_request", str(problem))
    except Exception as problem:  # noqa: BLE001  # the lines that follow must have their replies
        return failed("internal_error", f"{type(problem).__name__}: {problem}")


class _NotARequest(Exception):
    """JSON that asks for nothing; its message says how to."""


def request(asked: Any, today: str) -> dict[str, Any]:
    """What a line asks, as the bridge takes it.

    Args:
        asked: `calculator` and, as far as they are needed, `inputs`, `date` and `overrides`.
        today: Day of the test where `date` is left out.
    """
    if not isinstance(asked, dict):
        raise _NotARequest('A request is an object such as {"calculator": "…", "inputs": {…}}.')
    strange = [name for name in asked if name not in PARTS]
    if strange:
        raise _NotARequest(f"A request has no “{strange[0][:40]}”. It has: {', '.join(PARTS)}.")
    if "calculator" not in asked:
        raise _NotARequest("A request names its calculator. See: python -m calcs list.")
    inputs = asked.get("inputs", {})
    return {
        "action": "run",
        "calculator": asked["calculator"],
        "today": today if asked.get("date") is None else asked["date"],
        "inputs": entered(inputs) if isinstance(inputs, dict) else inputs,
        "overrides": {} if asked.get("overrides") is None else asked["overrides"],
    }


def entered(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """Inputs as the bridge takes them: a text is a value, a list the rows of a table."""
    return {
        name: {"rows": one}
        if isinstance(one, list)
        else one
        if isinstance(one, dict)
        else {"value": one}
        for name, one in inputs.items()
    }
