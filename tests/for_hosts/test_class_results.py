"""What is told of a class: counts of each question and slip, as what was handed in has them.

The answers are made here, each with the outcome that it must have.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from build_tools.for_hosts.class_results import main, problem_text, results
from build_tools.for_hosts.packed import packed
from build_tools.runtime import practice_pack
from build_tools.sources import overlays
from build_tools.sources.load_project import load
from calcs.engine.units import unit_text
from calcs.practice import papers, put
from calcs.practice.draw import Question, wrong_numbers
from calcs.practice.put import LETTERS
from tests.calcs.practice.held import pack
from tests.overlay.northmoor_read import as_read_today
from tests.project import project

PAPER = "pressure_and_input"
SEEDS = papers.class_seeds("week-9", 3)


@cache
def held() -> dict[str, Any]:
    return practice_pack.make(project(), pack().today)["papers"]


@cache
def drawn(seed: str) -> list[Question]:
    return papers.drawn(held()[PAPER], seed, pack())


def on_paper(question: Question, given: dict[str, Any]) -> str:
    """An answer as a candidate writes it: a number with its unit, or letters."""
    if "text" in given:
        return f"{given['text']} {unit_text(given['unit'])}" if given.get("unit") else given["text"]
    ids = [one.get("id") for one in question.items]
    chosen = [ids.index(each) for each in given.get("order", ())] or given["chosen"]
    places = [ids.index(each) if isinstance(each, str) else each for each in chosen]
    return " ".join(LETTERS[place] for place in places)


def right(seed: str) -> list[str]:
    return [on_paper(each, put.right_answer(each)) for each in drawn(seed)]


def csv(rows: dict[str, list[str]], *, also: str = "") -> str:
    count = len(drawn(SEEDS[0]))
    head = ",".join(["seed", *([also] if also else []), *map(str, range(1, count + 1))])
    more = ["A. Tutor"] if also else []
    lines = [",".join([seed, *more, *(f'"{a}"' for a in row)]) for seed, row in rows.items()]
    return "\n".join([head, *lines]) + "\n"


def told(*texts: str) -> tuple[dict[str, Any], list[str]]:
    """What is told of files, the first of which is class.csv, and what is wrong with them."""
    files = [{"name": f"class{n or ''}.csv", "text": text} for n, text in enumerate(texts)]
    found, problems = results(PAPER, files, pack(), held())
    return found, [problem_text(each) for each in problems]


def counted(text: str) -> dict[str, Any]:
    found, problems = told(text)
    assert problems == []
    return found


def test_all_that_is_right_counts_as_right() -> None:
    found = counted(csv({seed: right(seed) for seed in SEEDS}))
    asked = [each.id for seed in SEEDS for each in drawn(seed)]
    assert found["sat"] == 3
    assert {one["id"]: one["sat"] for one in found["questions"]} == {
        name: asked.count(name) for name in asked
    }
    assert [one["id"] for one in found["questions"] if one["right"] != one["sat"]] == []
    assert found["slips"] == []


def test_a_slip_an_open_answer_and_one_that_cannot_be_read_are_counted_apart() -> None:
    seed = SEEDS[0]
    place, question = next(
        (place, each)
        for place, each in enumerate(drawn(seed))
        if each.asks == "number" and wrong_numbers(each, pack())
    )
    slip, wrong = wrong_numbers(question, pack())[0]
    others = [each for each in range(len(drawn(seed))) if each != place]
    answers = right(seed)
    answers[place] = f"{wrong.value:.9f} {unit_text(question.unit)}"
    answers[others[0]], answers[others[1]] = "", "?"
    found = {one["id"]: one for one in counted(csv({seed: answers}))["questions"]}
    hit = found[question.id]
    assert (hit["right"], hit["share_right"]) == (0, 0)
    assert slip in [name for each in hit["slips"] for name in each["name"].split("/")]
    assert all(each["say"] != each["name"] for each in hit["slips"])
    assert hit["wrong"] == 1
    assert found[drawn(seed)[others[0]].id]["left_open"] == 1
    assert found[drawn(seed)[others[1]].id]["unread"] == 1
    assert sum(one["right"] for one in found.values()) == len(answers) - 3


def test_the_hardest_question_comes_first_and_marks_of_a_tutor_count() -> None:
    seed = SEEDS[0]
    marks = ["right"] * len(drawn(seed))
    marks[4] = "Wrong"
    found = counted(csv({seed: marks}))
    assert found["questions"][0]["id"] == drawn(seed)[4].id
    assert [one["right"] for one in found["questions"]] == [0] + [1] * (len(marks) - 1)


def test_nothing_of_a_person_is_kept() -> None:
    found = counted(csv({seed: right(seed) for seed in SEEDS}, also="Name"))
    assert found["left_out"] == 1
    said = json.dumps(found)
    assert "Tutor" not in said
    assert not any(seed in said for seed in SEEDS)


def test_json_says_the_same_as_csv() -> None:
    rows = {seed: right(seed) for seed in SEEDS}
    sat = [
        {"seed": seed, "email": "x", "answers": {str(n): a for n, a in enumerate(row, start=1)}}
        for seed, row in rows.items()
    ]
    text = json.dumps({"sat": sat})
    assert counted(text) == {**counted(csv(rows)), "left_out": 1}
    assert counted(json.dumps(sat)) == counted(text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "found nothing in it, expected answers"),
        ("seed,1\n", "found no answers"),
        ("seed,1\n,\n", "found no answers"),
        ("name,1\nA,B\n", "found no column 'seed'"),
        ("seed,1\nx9k2mp,B,C\n", "a row with more cells than its first row has names"),
        ('seed,1\nx9k2mp,"B\n', "a table that can't be read"),
        ("seed,1\nA. Tutor,B\n", "class.csv, line 2: found something under 'seed' that is none"),
        ("seed,99\nx9k2mp,B\n", "class.csv, line 2: found an answer to question 99"),
        ("{", "JSON that breaks off or is damaged"),
        ("[" * 100_000, "more than 20 deep"),
        ('[{"seed": "a", "answers": {"1": 1e999}}]', "is damaged"),
        (r'[{"seed": "a", "answers": {"1": "\ud800"}}]', "is damaged"),
        ('{"papers": []}', "JSON that holds no papers"),
        ('[{"seed": ["a b"]}]', "class.csv, paper 1: found something under 'seed'"),
        ("seed,1\nx9k2mp,21\ufffd\n", "signs that are not UTF-8"),
        ("PK\x03\x04\x00\x00", "found files packed in one"),
        ("\x89PNG\x00", "found no text"),
        ("x" * 2_000_001, "found 2.0 MB, expected at most 2.0 MB"),
        ('{"format": "gas-commissioning-visits"}', "a file of another page"),
    ],
)
def test_a_file_that_is_none_is_refused_and_names_nobody(text: str, said: str) -> None:
    found, problems = told(text)
    assert found["sat"] == 0
    assert len(problems) == 1
    assert said in problems[0]
    assert problems[0].startswith("class.csv")
    assert "\nFix: " in problems[0]
    assert "Tutor" not in problems[0]


def test_what_is_wrong_is_told_in_one_go_and_the_rest_counts() -> None:
    one, two = SEEDS[:2]
    first = csv({one: right(one)})
    rows = first + csv({two: right(two)}).partition("\n")[2] + "A. Tutor\n"
    found, problems = told(first, "{", rows, first)
    assert found["sat"] == 3
    assert [each.partition(":")[0] for each in problems] == [
        *("class1.csv", "class3.csv", "class2.csv, line 4")
    ]
    assert "the same as in class.csv" in problems[1]


def test_signs_of_other_programs_do_no_harm() -> None:
    """A byte order mark, semicolons and headings such as Q1, as spreadsheets write them."""
    rows = {SEEDS[0]: right(SEEDS[0])}
    plain = csv(rows)
    head, _, body = plain.partition("\n")
    count = len(rows[SEEDS[0]])
    other = ";".join([" Seed ", *(f"Q{n}" for n in range(1, count + 1))])
    quoted = ";".join([SEEDS[0].upper(), *(f'"{each}"' for each in rows[SEEDS[0]])])
    assert head.startswith("seed,1")
    assert body
    assert counted(f"\ufeff{other}\r\n{quoted}\r\n;;\r\n") == counted(plain)


def test_the_command_tells_it_in_words_and_to_tools(
    tmp_path: Any, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("build_tools.for_hosts.class_results.packed", lambda _: (pack(), held()))
    file = tmp_path / "class.csv"
    answers = ["wrong", *["right"] * (len(drawn(SEEDS[0])) - 1)]
    file.write_text(csv({SEEDS[0]: answers}, also="Name"), encoding="utf-8")
    assert main(PAPER, [file], json=True) == 0
    assert json.loads(capsys.readouterr().out)["sat"] == 1
    assert main(PAPER, [file]) == 0
    said = capsys.readouterr().out
    assert "Nothing of a person is kept." in said
    title = drawn(SEEDS[0])[0].template["title"]
    assert f"0 of 1 right (0%, which says little)  1. {title}" in said
    broken = tmp_path / "broken.json"
    broken.write_bytes(b"{\xff")
    assert main(PAPER, [file, broken]) == 1
    said = capsys.readouterr()
    assert said.out.startswith("Pressure and input: 1 paper.")
    assert said.err.startswith("broken.json: found signs that are not UTF-8")
    assert main("pressure_and_inputs", [file]) == 1
    assert "Fix: rename it to 'pressure_and_input'." in capsys.readouterr().err


def test_outcomes_of_a_host_have_the_questions_that_serve_them(tmp_path: Path) -> None:
    """Its outcomes.yaml says which: by name, by the page of a question, by a step that it reads."""
    held_over, _ = packed(load(layers=overlays.read([as_read_today(tmp_path)])))
    served = {each["code"]: each for each in held_over.outcomes}
    assert served["207 3.2"]["host"] == "Northmoor College"
    assert {"bay_gas_rate", "seconds_to_expect"} <= {*served["207 3.2"]["questions"]}
    assert served["207 3.3"]["questions"] == []
    assert not any("outcomes" in each for each in practice_pack.make(project(), pack().today))
