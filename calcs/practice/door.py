"""What a page or the command line asks of the questions: JSON in, JSON out."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from calcs.practice import class_reply, marking, paper_reply, put
from calcs.practice.draw import NotDrawn, question
from calcs.practice.easy_first import easy_first
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


def pack(ask: Ask) -> Pack:
    """The templates that were taken, with the calculators that they ask."""
    held = _held[0]
    of = (held["questions"], held["slips"], held["topics"], held["today"], ask, _kept)
    return Pack(*of, held.get("outcomes", ()))


def papers() -> Mapping[str, Any]:
    """The papers that were taken, by id."""
    found: Mapping[str, Any] = _held[0].get("papers", {})
    return found


def reply(request: Mapping[str, Any], ask: Ask) -> dict[str, Any]:
    """Reply to one request.

    Args:
        request: `about`: `list`, `question` or `mark`; for the latter two `question` and `seed`,
            and `given` for `mark`. What is about a paper is `paper_reply.py`'s, and about a class
            `class_reply.py`'s.
        ask: The bridge of the calculators.

    Returns:
        `{"practice": …}`, or `{"refused": […]}` where there is no such question.
    """
    if not _held:
        return _refused("The questions are not loaded.")
    asked_of = pack(ask)
    if request.get("about") == "list":
        questions = asked_of.questions
        ordered = easy_first(questions, asked_of.topics)
        listed = [put.listed(name, questions[name]) for name in ordered]
        return {"practice": listed, "slips": asked_of.slips}
    if request.get("about") in class_reply.ABOUT:
        return class_reply.reply(request, papers(), asked_of)
    if request.get("about") in paper_reply.ABOUT:
        return paper_reply.reply(request, papers(), asked_of)
    name, seed = str(request.get("question")), str(request.get("seed", "1"))
    if name not in asked_of.questions:
        return _refused(f"There is no question {name[:40]!r}.")
    try:
        found = question(asked_of, name, seed)
    except NotDrawn as problem:
        return _refused(str(problem))
    if request.get("about") == "mark":
        given = request.get("given")
        told = marking.mark(found, given if isinstance(given, dict) else {}, asked_of)
        told |= put.drawn(found, solved=True)
        return {"practice": {**told, "why": put.why(found), "read": found.template["read"]}}
    shown = {**put.put(found), "worked": put.worked(found, asked_of)}
    return {"practice": {**shown, "read": found.template["read"], "why": put.why(found)}}


def _refused(message: str) -> dict[str, Any]:
    return {"refused": [{"field": "question", "kind": "unknown", "message": message}]}
