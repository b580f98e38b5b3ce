"""`check` makes a page again where anything is another that it is made from, and nowhere else.

The small handbooks of `tests/pages/` are tried, those that can be shown first.
"""

from __future__ import annotations

from typing import Any

import pytest

from build_tools.site import trial_pages
from build_tools.sources.passed import Passed, hashed
from build_tools.sources.problems import report
from tests.pages.small_handbook import cases, parts

CASES = [each.values[0] for each in cases()]
GOOD = [each for each in CASES if "message" not in each]
WRONG = [each for each in CASES if "message" in each]


def tried(case: dict[str, Any], passed: Passed) -> str:
    project, page_context = parts(case)
    passed.code = hashed(str(case["replies"]))  # which the formulas give otherwise
    found = trial_pages.tried(project, passed, page_context)
    return report(found).rstrip("\n") if found else ""


def test_what_breaks_after_a_pass_is_told_as_if_nothing_had_passed() -> None:
    passed = Passed()
    assert {tried(case, passed) for case in GOOD} == {""}
    assert len(str(passed).split()) > len(GOOD)
    told = [tried(case, passed) for case in WRONG]
    assert told == [case["message"].rstrip("\n") for case in WRONG]
    assert [tried(case, passed) for case in WRONG] == told  # what is wrong never passes


def made(case: dict[str, Any], passed: Passed, monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """The pages that are made when a case is tried."""
    found: set[str] = set()
    context = trial_pages.context

    def counted(node: Any, pages: Any) -> Any:
        found.add(node.path)
        return context(node, pages)

    with monkeypatch.context() as patched:
        patched.setattr(trial_pages, "context", counted)
        assert tried(case, passed) == ""
    return found


def test_a_page_is_made_again_where_its_file_or_what_it_looks_up_is_another(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    case, passed = max(GOOD, key=lambda each: len(each["files"])), Passed()
    every = made(case, passed, monkeypatch)
    assert len(every) > 1
    assert made(case, passed, monkeypatch) == set()
    fewest = len(every)
    for path in every:
        name = f"content/{path.removesuffix('.html')}.yaml"
        files = {**case["files"], name: f"{case['files'][name]}\n"}
        again = made({**case, "files": files}, passed, monkeypatch)
        assert path in again
        fewest = min(fewest, len(again))
    assert fewest == 1
    assert made({**case, "contact": "another"}, passed, monkeypatch) == every
    assert made({**case, "replies": {**case["replies"], "other": {}}}, passed, monkeypatch) == every


def test_who_looks_at_questions_or_at_other_pages_is_noted() -> None:
    questions = trial_pages.Noted({"topics": {}, "questions": {}})
    assert questions.get("topics") == {}
    assert not questions.is_used
    for look in (
        list,
        dict,
        len,
        lambda held: held.get("papers"),
        lambda held: "questions" in held,
    ):
        questions.is_used = False
        look(questions)
        assert questions.is_used
    for look in (list, len, lambda pages: 1 in pages, lambda pages: pages[:1]):
        others = trial_pages.Others([])
        look(others)
        assert others.is_used
