"""What learners of a class save after a paper, as the page writes it."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from calcs.practice import (
    answer_file,
    paper_marks,
    papers,
    put,
)
from calcs.practice.draw import Question
from tests.calcs.practice.held import held, pack

PAPER = "pressure_and_input"
SEEDS = papers.class_seeds("week-9", 24)


@cache
def drawn(seed: str, paper: str = PAPER) -> list[Question]:
    return papers.drawn(held()[paper], seed, pack())


def right(seed: str) -> dict[str, Any]:
    return {each.id: put.right_answer(each) for each in drawn(seed)}


def saved(given: Any, seed: str = SEEDS[0], **other: Any) -> str:
    """What the page saves: `build_tools/web/src/question-paper/answers-file.js`."""
    of = {"paper": PAPER, "seed": seed, "sitting": "a1b2c3d4e5"}
    file = {
        "format": answer_file.FORMAT,
        "version": 1,
        "edition": "2026-11-28 abc1234",
        **of,
        "drawn": paper_marks.print_of(drawn(seed)),
        "given": given,
    }
    return json.dumps({**file, **other})


def wrongly(question: Question) -> dict[str, Any]:
    """An answer that can't be right: no number of a question is so large, no choice is all."""
    if question.asks in put.NUMBERS:
        return {"text": "987654321", "unit": question.unit}
    if question.asks == "order":
        return {"order": [one["id"] for one in reversed(question.template["order"]["steps"])]}
    if question.asks == "verdict":
        other = next(each["id"] for each in question.items if each["id"] != question.right)
        return {"chosen": [other]}
    places = [str(place) for place, one in enumerate(question.items) if not one["right"]]
    return {"chosen": places[:1]}
