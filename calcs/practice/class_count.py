"""How a class did at a paper, as counts: each answer is marked as the handbook marks it.

What is kept of an answer is that it counts. So what is told says nothing of anybody. Papers are
counted a few at a time: what has been found so far goes out, and comes in with the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from calcs.practice import paper_marks, papers, put
from calcs.practice.answer_file import LONGEST, Wrong
from calcs.practice.draw import NotDrawn, Question
from calcs.practice.pack import Pack
from calcs.practice.put import LETTERS

RIGHT, WRONG = "right", "wrong"  # where somebody has marked it already
OR = "/"  # between the names of slips that lead to one answer
MOST_TEXTS = 60  # of wrong choices that are counted by their text
SIGNS = {"right": "right", "left_open": "open", "unread": "unread"}  # how marking says it
COUNTS = ("sat", "right", "wrong", "left_open", "unread", "unsafe")


def nothing() -> dict[str, Any]:
    """What has been counted before the first paper."""
    return {"sat": 0, "reached": 0, "unsafe": 0, "questions": {}}


def count(
    rows: Sequence[Mapping[str, Any]],
    paper: Mapping[str, Any],
    pack: Pack,
    so_far: Mapping[str, Any] | None = None,
) -> tuple[dict[str, Any], list[dict[str, str]]]:
    """Count some papers more.

    Args:
        rows: As `handed_in.read` gives them under `sat`.
        paper: The paper that they are of.
        pack: All questions.
        so_far: What was counted before.

    Returns:
        All that is counted now, and what is wrong with papers that could not be.
    """
    found = {**nothing(), **(so_far or {})}
    problems: list[dict[str, str]] = []
    drawn: dict[str, list[Question] | Wrong] = {}
    for row in rows:
        seed = str(row["seed"])
        if seed not in drawn:
            drawn[seed] = _drawn(paper, seed, pack)
        asked = drawn[seed]
        try:
            if isinstance(asked, Wrong):
                raise asked
            _must_fit(row, asked)
        except Wrong as wrong:
            problems.append(wrong.told(str(row["file"])) | {"where": str(row["where"])})
            continue
        _add(found, _answers(row, asked), paper, pack)
    return found, problems


def _drawn(paper: Mapping[str, Any], seed: str, pack: Pack) -> list[Question] | Wrong:
    try:
        return papers.drawn(paper, seed, pack)
    except (papers.NotFilled, NotDrawn) as error:
        fix = "take another seed"
        return Wrong(f"a paper that can't be drawn ({error})", "one that can", fix)


def _must_fit(row: Mapping[str, Any], asked: Sequence[Question]) -> None:
    """What is answered is what was asked.

    Raises:
        Wrong: It is not: another paper, or another edition.
    """
    numbers = [int(number) for number, text in row.get("answers", {}).items() if text]
    beyond = [number for number in numbers if not 1 <= number <= len(asked)]
    if beyond:
        raise Wrong(
            f"an answer to question {beyond[0]}",
            f"answers to questions 1 to {len(asked)}",
            "choose the paper that was sat",
        )
    if "given" in row and row.get("drawn") != paper_marks.print_of(asked):
        raise Wrong(
            f"a paper drawn by another edition, {row.get('edition') or 'which it does not name'}",
            "a paper whose questions are those of this edition",
            "read it in the edition in which it was sat, or have this one's paper sat",
        )


def _answers(
    row: Mapping[str, Any], asked: Sequence[Question]
) -> Iterable[tuple[Question, str | Mapping[str, Any] | None]]:
    """Each question with what was given: as the page gives it, or as it stands on paper."""
    for number, question in enumerate(asked, start=1):
        if "given" in row:
            yield question, row["given"].get(question.id)
        else:
            yield question, str(row["answers"].get(str(number), ""))


def _add(
    found: dict[str, Any],
    answers: Iterable[tuple[Question, str | Mapping[str, Any] | None]],
    paper: Mapping[str, Any],
    pack: Pack,
) -> None:
    marks = of = 0
    is_unsafe = False
    for number, (question, answer) in enumerate(answers, start=1):
        told = _marked(question, answer, pack)
        marks += told["marks"]
        of += told["of"]
        is_unsafe = is_unsafe or bool(told.get("unsafe"))
        blank = {**dict.fromkeys(COUNTS, 0), "slips": {}, "instead": {}, "number": number}
        tally = found["questions"].setdefault(question.id, blank)
        if tally["number"] != number:  # papers of other seeds ask it elsewhere
            tally["number"] = 0
        _tally(tally, told)
    is_barred = is_unsafe and paper["pass"].get("no_unsafe") == "yes"
    found["sat"] += 1
    found["unsafe"] += is_unsafe
    found["reached"] += marks >= papers.marks_to_pass(paper, of) and not is_barred


def _tally(tally: dict[str, Any], told: Mapping[str, Any]) -> None:
    became = next((key for key, sign in SIGNS.items() if told.get(sign)), "wrong")
    tally[became] += 1
    tally["sat"] += 1
    tally["unsafe"] += bool(told.get("unsafe"))
    names = OR.join(dict.fromkeys(each["name"] for each in told.get("slips", ())))
    if names and became == "wrong":
        tally["slips"][names] = tally["slips"].get(names, 0) + 1
    elif became == "wrong":
        for text in _instead(told):
            if text in tally["instead"] or len(tally["instead"]) < MOST_TEXTS:
                tally["instead"][text] = tally["instead"].get(text, 0) + 1


def _instead(told: Mapping[str, Any]) -> Iterable[str]:
    """What was done in place of the right thing, where no slip has a name for it."""
    for pair in told.get("broken", ()):
        yield f"“{pair['then']}” before “{pair['first']}”"
    if isinstance(told.get("answer"), list) and "broken" not in told:
        yield from (f"chose “{each}”" for each in told["said"] if each not in told["answer"])
        yield from (f"did not choose “{each}”" for each in told.get("missed", ())[:1])


def _marked(
    question: Question, answer: str | Mapping[str, Any] | None, pack: Pack
) -> Mapping[str, Any]:
    if isinstance(answer, str) and answer.lower() in {RIGHT, WRONG}:
        of = paper_marks.worth(question, pack)
        is_right = answer.lower() == RIGHT
        return {"right": is_right, "marks": of * is_right, "of": of}
    if not answer:
        return paper_marks.marked(question, None, pack)
    given = on_page(question, answer) if isinstance(answer, str) else _usable(question, answer)
    if given is None:
        unread = {"right": False, "unread": "It is no letter of a choice."}
        return {**unread, "marks": 0, "of": paper_marks.worth(question, pack)}
    return paper_marks.marked(question, given, pack)


def on_page(question: Question, answer: str) -> dict[str, Any] | None:
    """An answer as it stands on paper, a number or letters, as the page would give it.

    Returns:
        Nothing where it is no choice.
    """
    if question.asks in put.NUMBERS:
        return {"text": answer}
    places = [*_places(answer, len(question.items))]
    is_one = question.asks not in {"choose_all", "order"}
    if not places or (is_one and len(places) > 1):
        return None
    if question.asks == "order":
        return {"order": [question.items[place]["id"] for place in places]}
    if question.asks == "verdict":
        return {"chosen": [question.items[places[0]]["id"]]}
    return {"chosen": places}


def _places(answer: str, count: int) -> Iterable[int]:
    """Which choices letters name: `C A`, `c, a` or `CA`. None of them where one is no choice."""
    letters = [sign for sign in answer.upper() if sign.isalnum()]
    known = LETTERS[:count]
    if all(sign in known for sign in letters) and len({*letters}) == len(letters):
        return [known.index(sign) for sign in letters]
    return []


def _usable(question: Question, given: Any) -> dict[str, Any] | None:
    """What a file says was given, where it can be: nobody promises that the page wrote it."""
    if not isinstance(given, Mapping):
        return None
    if question.asks in put.NUMBERS:
        text, unit = given.get("text"), given.get("unit", "")
        is_text = isinstance(text, str) and isinstance(unit, str)
        return {"text": text[:LONGEST], "unit": unit[:LONGEST]} if is_text and text else None
    listed = given.get("order" if question.asks == "order" else "chosen")
    known = [str(one.get("id") or at) for at, one in enumerate(question.items)]
    if not isinstance(listed, list) or not listed or len({*map(str, listed)}) < len(listed):
        return None
    chosen = [str(each) for each in listed]
    if not all(each in known for each in chosen):
        return None
    if question.asks == "order":
        return {"order": chosen}
    if question.asks == "verdict":
        return {"chosen": chosen[:1]}
    return {"chosen": [known.index(each) for each in chosen]}
