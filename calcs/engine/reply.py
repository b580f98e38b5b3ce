"""A reply as the command line prints it: one JSON shape, whose names scripts may rely on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.registry import calculators

ANSWERED, REFUSED, FAILED = "answered", "refused", "failed"


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
    is_known = isinstance(calculator, str) and calculator in calculators()
    asked = {"calculator": calculator} if is_known else {}
    return {"status": status_of(reply), **asked, **reply.get("answer", reply)}


def failed(kind: str, message: str) -> dict[str, Any]:
    """A request that could not be read, or an answer that broke off."""
    return {"status": FAILED, "failed": {"kind": kind, "message": message}}
