"""Marks of a paper: by line where an answer is worked out, and for method where a slip is known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calcs.practice.draw import Question
from calcs.practice.figures import NO_BREAK_SPACE
from calcs.practice.integers import hash_of
from calcs.practice.marking import mark
from calcs.practice.pack import Pack
from calcs.practice.put import NUMBERS, worked

MOST_LINES = 4  # of a working that has marks: the last ones, which hold the answer
SEVERAL = 2  # marks for an order, or for choosing all that fit
STOPPED = 0.01  # of a line's result: so near it is that line's, as an answer would be
ONE_OFF = 1  # of those, where one pair or one choice is wrong


def worth(found: Question, pack: Pack) -> int:
    """How many marks a question has."""
    if found.asks in NUMBERS:
        return max(1, len(marked_lines(worked(found, pack)["working"])))
    return SEVERAL if found.asks in {"order", "choose_all"} else 1


def print_of(asked: Sequence[Question]) -> str:
    """By which the questions of a paper are known again, with their figures and right answers.

    An edition that changes none of them gives the same.
    """
    held = [
        [each.id, each.said, each.text, [[one["text"], one.get("right")] for one in each.items]]
        for each in asked
    ]
    return f"{hash_of(repr(held)):016x}"


def marked_lines(working: Sequence[Mapping[str, str]]) -> list[Mapping[str, str]]:
    """The lines of a working that have a mark each."""
    return list(working[-MOST_LINES:])


def marked(found: Question, given: Mapping[str, Any] | None, pack: Pack) -> dict[str, Any]:
    """What is said to an answer in a paper.

    Args:
        found: The question.
        given: As `marking.mark` takes it; nothing where it was left open.
        pack: For what slips lead to.

    Returns:
        What `marking.mark` says, with `marks` and `of`. `lines` has the marks of each line, and
        `unread` why an answer could not be read: then it counts as wrong.
    """
    right = worked(found, pack)
    lines = marked_lines(right["working"] or ())
    of = worth(found, pack)
    told = mark(found, given, pack) if given else {"right": False, "slips": [], "open": True}
    if "refused" in told:
        told = {"right": False, "slips": [], "unread": told["refused"], "said": given_text(given)}
    told = {**right, "working": right["working"] or [], **told}
    got = _of_lines(told, lines) if len(lines) > 1 else [_of_whole(told, found, given or {})]
    if len(lines) > 1:
        told["lines"] = [
            {"label": line["label"], "result": line["result"], "marks": marks}
            for line, marks in zip(lines, got, strict=True)
        ]
    return {**told, "marks": sum(got, start=0), "of": of, "unsafe": bool(told.get("unsafe"))}


def given_text(given: Mapping[str, Any] | None) -> str:
    """What was typed."""
    return str((given or {}).get("text", ""))


def _of_whole(told: Mapping[str, Any], found: Question, given: Mapping[str, Any]) -> int:
    if told["right"]:
        return SEVERAL if found.asks in {"order", "choose_all"} else 1
    if found.asks not in {"order", "choose_all"} or told.get("open") or told.get("unsafe"):
        return 0
    if found.asks == "order":
        return ONE_OFF if len(told["broken"]) == 1 else 0
    chosen = {int(place) for place in given["chosen"]}
    off = [one for place, one in enumerate(found.items) if (place in chosen) != one["right"]]
    return ONE_OFF if len(off) == 1 else 0


def _of_lines(told: Mapping[str, Any], lines: Sequence[Mapping[str, str]]) -> list[int]:
    """A mark for each line that is right, or that only carries on a wrong figure.

    The line with the slip has none, nor has the answer. Who stopped at a line has those so far.
    Where a slip can't be placed on a line, half of the lines count. Where none is recognised
    nothing is known of the method: none counts.
    """
    if told["right"]:
        return [1] * len(lines)
    names = {each["name"] for each in told["slips"]}
    if len(names) != 1:
        return [0] * len(lines)
    if not told.get("yours"):
        known = _stopped_at(str(told["said"]), lines) or len(lines) // 2
        return [1] * known + [0] * (len(lines) - known)
    yours = {line["name"]: line["result"] for line in told["yours"]}
    other = [place for place, line in enumerate(lines) if yours.get(line["name"]) != line["result"]]
    first = other[0] if other else len(lines) - 1
    lost = {first, len(lines) - 1}
    return [0 if place in lost else 1 for place in range(len(lines))]


def _stopped_at(said: str, lines: Sequence[Mapping[str, str]]) -> int:
    """How many lines lead to the number that was given, where it is that of a line."""
    given = _number(said)
    for count, line in enumerate(lines[:-1], start=1):
        value = _number(line["result"])
        if given and value and abs(given - value) <= abs(value) * STOPPED:
            return count
    return 0


def _number(text: str) -> float:
    """The number at the head of a text; nothing where there is none."""
    try:
        return float(text.replace(NO_BREAK_SPACE, " ").partition(" ")[0])
    except ValueError:
        return 0.0
