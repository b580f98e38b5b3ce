"""A reply as the command line prints it: one JSON shape, in the names that scripts may rely on.

The browser still reads some of these under older names. When it reads the same, `RENAMED` goes and
nothing else changes.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.registry import calculators

ANSWERED, REFUSED, FAILED = "answered", "refused", "failed"
# At the top of an answer are sentences, one for each reason; in each answer is the reason's name.
RENAMED = {"no_doubt": "no_uncertainty_reason", "record": "figure"}
_TOP = {"no_doubt": "no_uncertainty_reasons"}


def status_of(reply: Mapping[str, Any]) -> str:
    """Whether a reply of the bridge answers, refuses or fails."""
    return next((status for status in (REFUSED, FAILED) if status in reply), ANSWERED)


def public(reply: Mapping[str, Any], calculator: Any) -> dict[str, Any]:
    """A reply to `run`: the answer itself, or `refused` or `failed`, each with its `status`.

    Args:
        reply: What the bridge gave.
        calculator: What the request named. Every reply repeats it where it is one, so that a
            script that asks several can tell whose reply it reads.
    """
    told = reply.get("answer", reply)
    named = {_TOP.get(name, name): value for name, value in told.items()}
    is_known = isinstance(calculator, str) and calculator in calculators()
    asked = {"calculator": calculator} if is_known else {}
    return {"status": status_of(reply), **asked, **renamed(named)}


def failed(kind: str, message: str) -> dict[str, Any]:
    """A request that could not be read, or an answer that broke off."""
    return {"status": FAILED, "failed": {"kind": kind, "message": message}}


def renamed(value: Any) -> Any:
    """The same value with the names of today in place of the older ones."""
    if isinstance(value, dict):
        return {
            # Names of inputs are the calculators' own.
            RENAMED.get(name, name): one
            if name == "inputs" and "answers" in value
            else renamed(one)
            for name, one in value.items()
        }
    return [renamed(one) for one in value] if isinstance(value, list) else value
