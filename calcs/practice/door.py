"""What a page or the command line asks of the questions: JSON in, JSON out."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from calcs.practice import marking, paper_reply, put
from calcs.practice.draw import NotDrawn, question
from calcs.practice.pack import Ask, Pack

_held: list[Mapping[str, Any]] = []
_kept: dict[str, Any] = {}  # what the calculators said last: a question and its marking ask alike


def load(text: str) -> None:
    """Take the templates of this edition, as JSON."""
    load_held(json.loads(text))


def load_held(held: Mapping[str, Any]) -> None:
    """Take the templates of this edition."""
    if _held != [held]:
        _held[:] = [held]
        _kept.clear()


def reply(request: Mapping[str, Any], ask: Ask) -> dict[str, Any]:
    """Reply to one request.

    Args:
        request: `about`: `list`, `question` or `mark`; for the latter two `question` and `seed`,
            and `given` for `mark`. What is about a paper is `paper_reply.py`'s.
        ask: The bridge of the calculators.

    Returns:
        `{"practice": …}`, or `{"refused": […]}` where there is no such question.
    """
    if not _held:
        return _refused("The questions are not loaded.")
    held = _held[0]
    pack = Pack(held["questions"], held["slips"], held["topics"], held["today"], ask, _kept)
    if request.get("about") == "list":
        listed = [put.listed(name, one) for name, one in pack.questions.items()]
        return {"practice": listed, "slips": pack.slips}
    if request.get("about") in paper_reply.ABOUT:
        return paper_reply.reply(request, held.get("papers", {}), pack)
    name, seed = str(request.get("question")), str(request.get("seed", "1"))
    if name not in pack.questions:
        return _refused(f"There is no question {name[:40]!r}.")
    try:
        found = question(pack, name, seed)
    except NotDrawn as problem:
        return _refused(str(problem))
    if request.get("about") == "mark":
        given = request.get("given")
        told = marking.mark(found, given if isinstance(given, dict) else {}, pack)
        told |= put.drawn(found, solved=True)
        return {"practice": {**told, "why": put.why(found), "read": found.template["read"]}}
    shown = {**put.put(found), "worked": put.worked(found, pack)}
    return {"practice": {**shown, "read": found.template["read"], "why": put.why(found)}}


def _refused(message: str) -> dict[str, Any]:
    return {"refused": [{"field": "question", "kind": "unknown", "message": message}]}
