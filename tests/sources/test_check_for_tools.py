"""What `check` tells a tool, and how it ends: by the weight of what was found.

The small handbook of `tests/overlay/base.yaml` is looked at. Nothing is built.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from build_tools.site import check
from build_tools.sources.project import Project
from build_tools.sources.rule import check_all
from tests.overlay.broken_overlays import BASE, CASES, DAY, GOOD, SETTINGS
from tests.project_of_texts import from_texts

SHAPE = json.loads((Path(__file__).parent / "check.schema.json").read_text("utf-8"))
OPEN = "kind: outcomes\noutcomes:\n  - code: '207 3.1'\n    says: Read the plate.\n"


def laid(**files: str) -> Project:
    """The small handbook with an overlay of these files over it."""
    above = {f"overlays/northmoor/{name}": text for name, text in files.items()}
    return from_texts({**BASE, **above}, {}, DAY)


def ended(project: Project, monkeypatch: pytest.MonkeyPatch, **asked: bool) -> int:
    """How `check` ends over a project that is read already, of which the rules alone are asked."""
    monkeypatch.setattr(check, "load", lambda **_: project)
    monkeypatch.setattr(check, "refused", lambda *_: told(project))
    return check.main(**asked)


def told(project: Project) -> list[Any]:
    return [each for each in check_all(project) if each.file.startswith("northmoor/")]


GOOD_ONE, ADVISED = {"overlay.yaml": SETTINGS}, {"overlay.yaml": SETTINGS, "outcomes.yaml": OPEN}
BROKEN = {"overlay.yaml": SETTINGS.replace("kind: overlay", "kind: overlays")}


@pytest.mark.parametrize(
    ("files", "asked", "status"),
    [
        (GOOD_ONE, {}, 0),
        (GOOD_ONE, {"advice": True}, 0),
        (ADVISED, {}, 0),
        (ADVISED, {"json": True}, 0),
        (ADVISED, {"advice": True}, 3),
        (ADVISED, {"advice": True, "json": True}, 3),
        (BROKEN, {}, 1),
        (BROKEN, {"advice": True, "json": True}, 1),
    ],
)
def test_it_ends_by_the_weight_of_what_was_found(
    files: dict[str, str], asked: dict[str, bool], status: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert ended(laid(**files), monkeypatch, **asked) == status


def test_a_tool_is_told_all_that_an_author_is(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ended(laid(**BROKEN, **{"outcomes.yaml": OPEN}), monkeypatch, json=True)
    said = json.loads(capsys.readouterr().out)
    jsonschema.validate(said, SHAPE)
    assert (said["refusals"], said["advice"]) == (1, 1)
    first, second = sorted(said["problems"], key=lambda each: each["severity"])
    assert (first["rule"], first["file"], first["line"]) == (
        "outcome-served", "northmoor/outcomes.yaml", 3
    )  # fmt: skip
    assert second == {
        "severity": "refusal",
        "rule": "shape",
        "file": "northmoor/overlay.yaml",
        "line": 1,
        "column": 7,
        "where": "kind",
        "found": "'overlays' can't stand here.",
        "expected": "There can be: overlay.",
        "fix": "rename it to 'overlay'",
    }


def test_an_author_is_told_of_advice_in_one_line_until_it_is_asked_for(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ended(laid(**ADVISED), monkeypatch)
    brief = capsys.readouterr().out
    assert "1 piece of advice: 'check --advice' tells it." in brief
    assert "outcomes.yaml" not in brief
    ended(laid(**ADVISED), monkeypatch, advice=True)
    assert "northmoor/outcomes.yaml:3:11  outcomes[1].code\n" in capsys.readouterr().out


def test_every_problem_of_every_broken_overlay_has_the_shape() -> None:
    assert told(laid(**GOOD)) == []
    found = [
        each
        for case in CASES[::6]
        for each in told(laid(**{"overlay.yaml": SETTINGS, **case["files"]}))
    ]
    said = json.loads(check.for_tools(laid(**GOOD), [Path("northmoor")], found))
    jsonschema.validate(said, SHAPE)
    assert said["refusals"] == len(said["problems"]) > len(CASES) / 6 - 1


def test_a_person_in_an_outcome_and_a_hard_page_are_advised() -> None:
    hard = (
        "# About\n\n" + "Considerable institutional responsibility necessitates circumspection " * 9
    )
    files = {
        "overlay.yaml": SETTINGS,
        "outcomes.yaml": OPEN.replace("Read the plate.", "As A. Tutor does."),
        "pages/about.md": f"{hard}.\n",
    }
    found = {each.rule for each in check.advice_on(laid(**files))}
    assert found == {"outcome-served", "outcome-names-nobody", "page-plain"}
