"""What learners saved after a paper, read and counted: what fits, what does not, and nothing twice.

Who answers rightly is counted as right; every wrong answer here is made to be wrong.
"""

from __future__ import annotations

import json
from typing import Any

import pytest

from calcs.practice import (
    class_count,
    class_reply,
    class_told,
    handed_in,
    put,
)
from tests.calcs.practice.class_files import PAPER, SEEDS, drawn, right, saved, wrongly
from tests.calcs.practice.held import held, pack


def ask(about: str, **more: Any) -> Any:
    """As the page asks: what comes and goes is JSON."""
    reply = class_reply.reply(json.loads(json.dumps({"about": about, **more})), held(), pack())
    return json.loads(json.dumps(reply))["practice"]


def read(*texts: str, **more: Any) -> Any:
    files = [{"name": f"{n}.json", "text": text} for n, text in enumerate(texts)]
    return ask("class_read", files=files, **more)


def told(*texts: str, **more: Any) -> tuple[Any, list[Any]]:
    given = read(*texts, **more)
    made = ask("class_count", paper=given["paper"], sat=given["sat"])
    found = ask("class_told", paper=given["paper"], counted=made["counted"])
    return found, [*given["problems"], *made["problems"]]


def test_who_is_right_counts_as_right_and_who_is_wrong_as_wrong() -> None:
    seed = SEEDS[0]
    answers = right(seed)
    open_one, wrong_one, *_ = drawn(seed)
    some = {**answers, wrong_one.id: wrongly(wrong_one)}
    del some[open_one.id]
    found, problems = told(saved(answers), saved(some, sitting="z9y8x7w6v5"))
    assert problems == []
    assert (found["sat"], found["reached"], found["percent"]) == (2, 2, 70)
    counts = {one["id"]: one for one in found["questions"]}
    assert counts[open_one.id]["left_open"] == counts[wrong_one.id]["wrong"] == 1
    places = {each.id: place for place, each in enumerate(drawn(seed), start=1)}
    assert {one["id"]: one["number"] for one in found["questions"]} == places
    others = [each.id for each in drawn(seed)[2:]]
    assert [counts[each]["right"] for each in others] == [2] * len(others)
    assert {found["questions"][0]["id"], found["questions"][1]["id"]} == {open_one.id, wrong_one.id}
    weak = found["topics"][0]["topic"]
    assert weak in {open_one.template["topic"], wrong_one.template["topic"]}
    assert sum(one["sat"] for one in found["topics"]) == 2 * len(answers)


def test_every_kind_of_wrong_answer_is_counted_with_what_was_done() -> None:
    wrong = [(seed, {each.id: wrongly(each) for each in drawn(seed)}) for seed in SEEDS[:6]]
    files = [saved(given, seed, sitting=f"sitting{seed}") for seed, given in wrong]
    found, problems = told(*files)
    assert problems == []
    assert found["reached"] == 0
    assert 0 in {one["number"] for one in found["questions"]}  # of six papers, each in its order
    assert all(one["wrong"] == one["sat"] for one in found["questions"])
    assert {pack().questions[one["id"]]["asks"] for one in found["questions"]} >= {
        *("number", "read", "order", "verdict", "choose_one", "diagnose")
    }
    for one in found["questions"]:
        if pack().questions[one["id"]]["asks"] in {"order", "diagnose", "choose_one"}:
            assert one["slips"] or one["instead"], one["id"]
    unsafe = [one["id"] for one in found["questions"] if one["unsafe"]]
    assert found["unsafe"] > 0 < len(unsafe)


def test_papers_counted_a_few_at_a_time_come_to_the_same() -> None:
    files = [saved(right(seed), seed, sitting=f"sitting{seed}") for seed in SEEDS[:5]]
    given = read(*files)
    whole, counted = ask("class_count", paper=PAPER, sat=given["sat"]), None
    for row in given["sat"]:
        counted = ask("class_count", paper=PAPER, sat=[row], so_far=counted)["counted"]
    assert counted == whole["counted"]
    assert counted["sat"] == 5


def test_what_was_handed_in_twice_is_counted_once() -> None:
    answers = right(SEEDS[0])
    same, spaced = saved(answers), saved(answers) + "\n"
    other = saved({**answers, drawn(SEEDS[0])[0].id: wrongly(drawn(SEEDS[0])[0])})
    twin = saved(answers, sitting="z9y8x7w6v5")  # another learner who is as good
    found, problems = told(same, same, spaced, other, twin)
    assert found["sat"] == 2
    assert [(each["file"], each["found"]) for each in problems] == [
        ("1.json", "the same as in 0.json"),
        ("2.json", "the same as in 0.json"),
        ("3.json", "other answers to the very paper that is in 0.json, which is counted"),
    ]


def test_files_that_do_not_belong_are_named_with_what_to_do() -> None:
    answers = right(SEEDS[0])
    texts = {
        "mine": saved(answers),
        "other paper": saved({}, paper="safety_first", sitting="bbbbbbbb"),
        "no such paper": saved({}, paper="gone", sitting="cccccccc"),
        "other edition": saved(answers, drawn="0", edition="2025-01-01 0000000", sitting="d" * 8),
        "other seed": saved({}, "someone", sitting="eeeeeeee"),
        "later form": saved({}, version=2),
        "by hand": saved([]),
        "no sitting": saved({}, sitting="A. Learner"),
        "broken": saved(answers)[:-9],
    }
    found, problems = told(*texts.values(), paper=PAPER, seed="week-9")
    assert found["sat"] == 1
    named = {list(texts)[int(each["file"].removesuffix(".json"))]: each for each in problems}
    assert {*named} == {*texts} - {"mine"}
    assert named["other paper"]["found"] == "the paper “Safety first”"
    assert named["other paper"]["expected"] == "the paper “Pressure and input”"
    assert "2025-01-01 0000000" in named["other edition"]["found"]
    assert named["other seed"]["found"] == "the seed 'someone'"
    assert all(each["fix"] for each in problems)
    assert "Learner" not in json.dumps(problems)


def test_without_a_paper_that_is_read_which_most_of_the_files_name() -> None:
    safety = saved({}, paper="safety_first", sitting="bbbbbbbb")
    table = f"seed,1\n{SEEDS[0]},B\n"
    assert read(saved({}), saved({}, sitting="cccccccc"), safety)["paper"] == PAPER
    assert read(saved({}), table)["paper"] == PAPER
    alone = read(table)
    assert alone["sat"] == []
    assert alone["problems"][0]["fix"] == "choose the paper that was sat"


@pytest.mark.parametrize("given", [None, 7, "", {}, [], {"text": 3}, {"chosen": ["9"]}])
def test_what_nobody_could_have_given_is_left_open_or_unread(given: Any) -> None:
    found, problems = told(saved({each.id: given for each in drawn(SEEDS[0])}))
    assert problems == []
    assert {one["right"] + one["wrong"] for one in found["questions"]} == {0}
    became = {one["left_open"] + one["unread"] for one in found["questions"]}
    assert became == {1}


@pytest.mark.parametrize("text", ["1e999", "9" * 10_000, "-0", "inf", "NaN", "\u0660", "1e-400"])
def test_a_strange_number_stops_nothing(text: str) -> None:
    given = {each.id: {"text": text, "unit": "kg"} for each in drawn(SEEDS[0])}
    found, problems = told(saved(given))
    assert problems == []
    assert found["sat"] == 1


def test_two_hundred_files_count_and_more_than_there_may_be_are_told_of() -> None:
    many = [saved(right(SEEDS[0]), sitting=f"sitting{n}") for n in range(200)]
    found, problems = told(*many)
    assert (found["sat"], problems) == (200, [])
    over = read(*(saved({}, sitting=f"sitting{n}") for n in range(handed_in.MOST_FILES + 1)))
    assert len(over["sat"]) == handed_in.MOST_FILES
    assert over["problems"][0]["found"] == "301 files"


def test_outcomes_are_told_with_the_questions_that_serve_them() -> None:
    seed = SEEDS[0]
    first, *others = drawn(seed)
    outcomes = [
        {"code": "1.1", "says": "All", "host": "N", "questions": [each.id for each in drawn(seed)]},
        {"code": "1.2", "says": "One", "host": "N", "questions": [first.id]},
        {"code": "1.3", "says": "None of it", "host": "N", "questions": ["elsewhere"]},
    ]
    of_host = type(pack())(**{**vars(pack()), "outcomes": outcomes})
    files = [{"name": "a", "text": saved({each.id: put.right_answer(each) for each in others})}]
    given = handed_in.read(files, held())
    counted, _ = class_count.count(given["sat"], held()[PAPER], of_host)
    found = class_told.told(PAPER, held()[PAPER], counted, of_host)["outcomes"]
    assert [(each["code"], each["right"], each["sat"]) for each in found] == [
        ("1.2", 0, 1),
        ("1.1", len(others), len(others) + 1),
    ]


def test_nothing_of_a_file_is_told_but_counts() -> None:
    secret = "Avery Learner"  # noqa: S105  no password: what may be told to nobody
    given = {**right(SEEDS[0]), secret: {"text": secret}}
    found, problems = told(saved(given, name=secret, sitting="aaaaaaaa"))
    assert problems == []
    said = json.dumps(found)
    assert secret not in said
    assert SEEDS[0] not in said
