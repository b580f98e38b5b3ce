"""The command `test --overlay` on the example: what passes, a question and a page that do not."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Playwright

from build_tools import commands
from build_tools.for_hosts import axe, links, questions, run
from build_tools.sources import overlays
from build_tools.sources.load_project import load
from build_tools.sources.project import Project
from tests.overlay.northmoor_read import as_read_today

# In its second case the only lure is the right answer, which leaves two choices: seed 1 draws the
# first case, so that `check` passes it.
BROKEN = """\
kind: question
title: The air proving device of bay 4
topic: procedures/fault_finding
asks: diagnose
stem: "The fan runs and no spark comes. You find that {say}. What do you do?"
cases:
  - right: {step: fault_finding.air_proving, if: 1}
    lures:
      - {text: Set the fan faster., slip: pressure_for_input, unsafe: yes, not: It would stay.}
  - right: {step: fault_finding.air_proving, if: 2}
lures:
  - {step: fault_finding.air_proving, if: 2}
  - {text: Bridge it to see if it works., slip: bridge, unsafe: yes, not: It proves the flue.}
read: [procedures/fault_finding#air_proving]
"""
PAGE = """<!doctype html><html lang="en"><head><title>Bays</title><link rel="icon" href="data:,">
<meta name="viewport" content="width=device-width"></head>
<body><main><h1 id="bays">Bays</h1>{}</main></body></html>"""
GOOD = '<p>Bays 1 to 6. <a href="bad.html#bays">More</a> <a href="#bays">Up</a></p>'
BAD = '<p>Your bay: <input type="text"></p><p style="inline-size: 900px">Wide.</p>'
AWRY = (
    '<p><a href="nowhere.html">A</a> <a href="good.html#none">B</a> <a href="good.html">C</a></p>'
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    copy = as_read_today(tmp_path_factory.mktemp("laid"))
    (copy / "questions" / "bay_air.yaml").write_text(BROKEN, encoding="utf-8")
    return copy


@pytest.fixture(scope="module")
def laid(folder: Path) -> Project:
    return load(layers=overlays.read([folder]))


@pytest.fixture
def site(tmp_path: Path) -> Path:
    for name, body in {"good": GOOD, "bad": BAD, "awry": AWRY}.items():
        (tmp_path / f"{name}.html").write_text(PAGE.format(body), encoding="utf-8")
    return tmp_path


def test_each_question_and_paper_of_the_host_is_tried_by_many_seeds(laid: Project) -> None:
    """The good ones pass, and the broken one is told of at its line."""
    (problem,) = questions.tried(laid, 20)  # the command tries 200
    assert problem.file == "northmoor/questions/bay_air.yaml"
    assert problem.where == "cases"
    assert problem.found.startswith("With seed ")
    assert problem.found.endswith("it has 2 choices, and 3 are the fewest.")
    assert not problem.found.startswith("With seed 1 ")
    assert [len(questions.own(laid, kind)) for kind in ("question", "paper")] == [2, 1]


def test_a_paper_that_cannot_be_filled_is_told(laid: Project) -> None:
    node = questions.own(laid, "paper")[0]
    mix = [{"topics": ["procedures/gas_rate"], "questions": "999"}]
    pack, _ = questions.packed(laid)
    (problem,) = questions._paper(node, {"mix": mix}, pack, 2)
    assert problem.file == "northmoor/papers/week_nine.yaml"
    assert "With seed 1 it asks for 999 of procedures/gas_rate, not " in problem.found


def test_links_are_followed_to_the_place_in_the_page(site: Path) -> None:
    assert links.tried(site, {"good.html": "bays.md"}) == ([], 2)
    found, followed = links.tried(site, {"awry.html": "bays.md"})
    assert [each.found for each in found] == [
        "The link 'nowhere.html' leads to no page.",
        "The link 'good.html#none' leads to a page that has no such place.",
    ]
    assert followed == 3


def test_a_page_that_axe_refuses_and_one_that_is_too_wide_are_told(
    site: Path, playwright: Playwright
) -> None:
    pages = {"good.html": "northmoor/pages/good.md", "bad.html": "northmoor/pages/bad.md"}
    found = axe.tried(site, pages, playwright)
    assert {each.file for each in found} == {"northmoor/pages/bad.md"}
    said = "\n".join(map(str, found))
    assert 'Form elements must have labels: <input type="text">' in said
    assert "On a phone this page is " in said
    assert len(found) == 2  # once, though it was looked at twice


def test_the_pages_of_a_host_are_found(folder: Path, laid: Project) -> None:
    pages = run.own_pages(laid, overlays.read([folder]))
    assert pages == {
        "index.html": "northmoor/overlay.yaml",
        "procedures/burner_pressure.html": "northmoor/words/procedures/burner_pressure.yaml",
        "reference/bay_rules.html": "northmoor/pages/reference/bay_rules.yaml",
        "reference/outcomes.html": "northmoor/pages/reference/outcomes.yaml",
        "bays.html": "northmoor/pages/bays.md",
    }


def test_it_ends_by_what_it_finds(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    broken: list[Any] = []
    monkeypatch.setattr(run, "refused", lambda *_: [])
    monkeypatch.setattr(questions, "tried", lambda _: broken)
    monkeypatch.setattr(run.build_site, "build", lambda *_: None)
    monkeypatch.setattr(links, "tried", lambda *_: ([], 9))
    monkeypatch.setattr(axe, "tried", lambda *_: [])
    assert run.main([folder]) == 0
    said = capsys.readouterr().out
    assert "Its 2 questions and 1 paper: drawn with 200 seeds each." in said
    assert "Its 5 pages: 9 links followed, axe asked in light and dark." in said
    assert "Advice: northmoor/outcomes.yaml:9:11" in said
    assert said.endswith("The overlay passes.\n")
    file = "northmoor/questions/bay_air.yaml"
    broken.append(run.Problem(file, 1, 1, "", "Amiss.", "", "mend it"))
    assert run.main([folder]) == 1
    assert capsys.readouterr().out.endswith("1 problem found.\n")
    assert run.main() == 2


def test_test_with_an_overlay_is_another_command_than_test_without() -> None:
    alone, with_it = (commands.find_command(["test", *w]) for w in ([], ["--overlay", "a"]))
    assert isinstance(alone, commands.Command)
    assert isinstance(with_it, commands.Command)
    assert (alone.module, with_it.module) == ("pytest", "for_hosts.run")
