"""What passed before is passed over only where all is as it was: files, code, day.

A stale pass would be worse than a slow one.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from build_tools.setup.paths import ROOT
from build_tools.sources.passed import Passed, code_of, hash_of_all, hashed, without_markdown
from build_tools.sources.project import Project
from build_tools.sources.rule import (
    ALL,
    EACH_FILE,
    Rule,
    check_all,
    check_markdown,
    key_of,
    parts,
    rules,
)
from tests.broken.stories import declared, stories
from tests.overlay.broken_overlays import BASE, CASES, DAY, GOOD, SETTINGS
from tests.project import suppose_passed
from tests.project_of_texts import from_texts

IN_PARTS = {rule.name for rule in rules() if rule.looks_at != ALL}
TUPLES = {rule.looks_at for rule in rules() if isinstance(rule.looks_at, tuple)}
BROKEN = [case for case in stories() if case.values[0].name in IN_PARTS]


@pytest.mark.parametrize(("rule", "case"), BROKEN)
def test_a_rule_that_sees_a_part_finds_all_that_it_would_find(
    rule: Rule, case: dict[str, Any]
) -> None:
    """So what it is shown holds all that it leans on."""
    calculators = {name: declared(each) for name, each in case.get("calculators", {}).items()}
    day = date.fromisoformat(case.get("day", "2026-11-25"))
    project = from_texts(case["files"], calculators, day)
    found = {each for _, part, _ in parts([rule], project) for each in rule.check(part)}
    assert found == {*rule.check(project)}
    assert bool(found) == bool(case["expect"])


def laid(files: dict[str, str], day: date = DAY) -> Project:
    above = {f"overlays/northmoor/{name}": text for name, text in files.items()}
    return from_texts({**BASE, **above}, {}, day)


def test_what_breaks_after_a_pass_is_told_as_if_nothing_had_passed() -> None:
    passed = Passed()
    check_all(laid(GOOD), passed)
    before = str(passed)
    assert len(before.split()) > len(GOOD)
    for case in CASES[::4]:
        project = laid({"overlay.yaml": SETTINGS, **case["files"]})
        assert set(check_all(project, passed)) == set(check_all(project)), case["id"]


def test_what_is_wrong_in_markdown_is_found_where_only_that_is_looked_at() -> None:
    pages = [each for each in CASES if any(name.endswith(".md") for name in each["files"])]
    seen = 0
    for case in pages:
        project = laid({"overlay.yaml": SETTINGS, **case["files"]})
        of_markdown = {each for each in check_all(project) if not each.file.endswith(".yaml")}
        assert {*check_markdown(project)} == of_markdown
        others = check_all(without_markdown(project))
        assert all(each.file.endswith(".yaml") for each in others)
        seen += len(of_markdown)
    assert seen > len(pages)


def test_what_passed_is_not_looked_at_again(monkeypatch: pytest.MonkeyPatch) -> None:
    passed, project = Passed(), laid(GOOD)
    looked: list[str] = []
    found_in = Rule.found_in

    def counted(self: Rule, part: Project) -> Any:
        looked.append(self.name)
        return found_in(self, part)

    monkeypatch.setattr(Rule, "found_in", counted)
    check_all(project, passed)
    first = len(looked)
    looked.clear()
    check_all(project, passed)
    again = len(looked)
    assert again < first / 2  # all files together, and those of the base that do not pass
    looked.clear()
    check_all(replace(project, day=DAY + timedelta(days=1)), passed)
    assert len(looked) == first  # another day
    looked.clear()
    check_all(project, Passed(str(passed).split(), code="another"))
    assert len(looked) == first  # other code


def test_the_hash_of_the_code_holds_each_of_its_files(tmp_path: Path) -> None:
    names = ("build_tools/rules/one.py", "build_tools/theme/two.css", "calcs/three.py")
    for name in (*names, "build_tools/web/node_modules/four.js"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("a", encoding="utf-8")
    seen = {code_of(tmp_path)}
    (tmp_path / "build_tools/web/node_modules/four.js").write_text("b", encoding="utf-8")
    assert code_of(tmp_path) in seen
    for name in names:
        (tmp_path / name).write_text("b", encoding="utf-8")
        assert code_of(tmp_path) not in seen
        seen.add(code_of(tmp_path))
    (tmp_path / names[0]).rename(tmp_path / "build_tools/rules/renamed.py")
    assert code_of(tmp_path) not in seen


def test_what_is_made_of_words_and_numbers_asks_no_formula() -> None:
    """So another formula leaves what passed of them: of calcs only the engine is asked."""
    for file in (ROOT / "build_tools" / "sources").rglob("*.py"):
        text = file.read_text("utf-8")
        asked = re.findall(r"^\s*(?:from|import) (calcs[\w.]*)", text, re.MULTILINE)
        assert all(each.startswith("calcs.engine") for each in asked), file
    passed, project = Passed(), laid(GOOD)
    check_all(project, passed)
    looked = {rule.name for rule in rules() if rule.looks_at in (EACH_FILE, *TUPLES)}
    for some, _, content in parts([rule for rule in rules() if rule.name in looked], project):
        other = Passed(code="another", without_formulas="")
        assert key_of(passed, some, project, content) == key_of(other, some, project, content)


def test_what_is_supposed_to_have_passed_is_what_passes() -> None:
    passed, supposed, project = Passed(), Passed(), laid(GOOD)
    check_all(project, passed)
    suppose_passed(project, supposed)
    assert {*str(passed).split()} <= {*str(supposed).split()}


def test_the_hash_of_all_holds_each_file_and_the_day() -> None:
    seen = {hash_of_all(laid(GOOD)), hash_of_all(laid({**GOOD, "pages/a.png": "1"}))}
    assert hash_of_all(laid({**GOOD, "pages/a.png": "2"})) not in seen
    assert hash_of_all(laid(GOOD)) in seen
    changed = [{**GOOD, name: f"{text} "} for name, text in GOOD.items()]
    seen |= {hash_of_all(laid(files)) for files in changed}
    seen.add(hash_of_all(laid(GOOD, DAY + timedelta(days=1))))
    assert len(seen) == len(GOOD) + 3


def test_texts_that_run_together_have_hashes_of_their_own() -> None:
    assert len({hashed("ab", "c"), hashed("a", "bc"), hashed("abc"), hashed("abc", "")}) == 4
