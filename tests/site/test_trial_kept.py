"""What passed is tried again where a figure is another that it was made from, and nowhere else.

The project is tried with a host's files over it, with some of its questions.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from build_tools.site import trial, trial_pages, trial_questions
from build_tools.sources import overlays
from build_tools.sources.load_project import load
from build_tools.sources.passed import SEEN, Passed
from build_tools.sources.project import Project, kind_of
from build_tools.sources.read_yaml import read_text
from build_tools.sources.rules import question_key
from build_tools.sources.watched import Watch

NORTHMOOR = Path(__file__).parents[1] / "overlay" / "northmoor"
AIR = "data/limits/ventilation.yaml"
BAYS = "overlays/northmoor/limits/bays.yaml"
DROPS = "overlays/northmoor/tables/permissible_drop_natural_gas.yaml"
FEW = 6  # of the questions of the handbook, one in so many


@pytest.fixture(scope="module")
def laid() -> Project:
    project = load(layers=overlays.read([NORTHMOOR]))
    questions = [place for place in project.documents if kind_of(place) == "question"]
    shown = project.documents["content/practise/session.yaml"].value["examples"]
    few = {*questions[::FEW], *(f"content/questions/{name}.yaml" for name in (*shown, "vent_one"))}
    kept = {k: v for k, v in project.documents.items() if k not in questions or k in few or v.at}
    return replace(project, documents=kept)


@pytest.fixture(scope="module")
def passed(laid: Project) -> str:
    """What passed when all was tried."""
    found = Passed()
    assert [str(each) for each in trial.tried(laid, [], found)] == []
    return str(found)


def changed(laid: Project, file: str, old: str, new: str) -> Project:
    document = laid.documents[file]
    assert old in document.text
    other = replace(read_text(document.text.replace(old, new), document.file), at=document.at)
    return replace(laid, documents={**laid.documents, file: other})


def made(project: Project, known: str, monkeypatch: pytest.MonkeyPatch) -> tuple[set[str], Any]:
    """The pages that are made, and the problems that are told."""
    found: set[str] = set()
    context = trial_pages.context

    def counted(node: Any, pages: Any) -> Any:
        found.add(node.path.removesuffix(".html"))
        return context(node, pages)

    with monkeypatch.context() as patched:
        patched.setattr(trial_pages, "context", counted)
        return found, trial.tried(project, [], Passed(known.split()))


def test_what_something_is_made_from_is_the_same_whatever_was_made_before(
    laid: Project, passed: str
) -> None:
    """So nothing that one has looked up is kept for another, which would then look at less."""
    each = passed.split()
    seen = [one for one in each if SEEN in one]
    assert len(seen) > len(laid.calculators) + len(laid.documents) / FEW / 2
    again = Passed(one for one in each if one not in seen[::5])
    assert trial.tried(laid, [], again) == []
    assert {*str(again).split()} == {*each}


def test_another_value_makes_again_what_it_stands_in(
    laid: Project, passed: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert made(laid, passed, monkeypatch) == (set(), [])
    pages, problems = made(changed(laid, BAYS, "0.2 mbar", "0.1 mbar"), passed, monkeypatch)
    assert {"procedures/burner_pressure", "calculators/burner_pressure"} <= pages
    assert problems == []
    assert len(pages) < 11
    pages, problems = made(changed(laid, DROPS, "5.5 mbar", "5.4 mbar"), passed, monkeypatch)
    assert {"procedures/tightness_test", "calculators/tightness_test"} <= pages
    assert problems == []
    assert not pages & {"procedures/burner_pressure", "calculators/burner_pressure"}


def test_a_figure_that_is_less_well_known_than_it_was_may_not_be_asked_for(
    laid: Project, passed: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    source = "source: {id: bs_5440_2, where: open-flued appliances}\n      provenance: "
    weak = changed(laid, AIR, f"{source}secondary", f"{source}from-memory")
    pages, problems = made(weak, passed, monkeypatch)
    assert "content/questions/vent_one.yaml" in {each.file for each in problems}
    assert "calculators/ventilation_open_flued" in pages
    assert [
        replace(each, rule="question-drawn") for each in trial_questions.tried(weak)
    ] == problems
    assert [*question_key.check(weak)] == []


def test_what_is_asked_for_is_seen_where_nothing_stands_too() -> None:
    bundle = {"figures": {"a": {"label": "A", "values": [1]}}, "tables": {}, "words": {}}
    watch = Watch(bundle, {"a": [2]})
    figure, limits = watch.over(bundle)["figures"]["a"], watch.over_limits()
    assert (figure["label"], "label" in figure, watch.seen) == ("A", True, set())
    assert {**figure} == bundle["figures"]["a"]
    assert watch.seen == {"figures/a"}
    assert limits.get("b") is None
    assert watch.seen == {"figures/a", "limits/b"}
    assert [*limits] == ["a"]
    assert watch.seen == {"figures/a", "limits/b", "limits/"}
    other = Watch({**bundle, "figures": {"a": {"label": "A", "values": [3]}}}, {"b": [2]})
    assert not [name for name in watch.seen if watch.said(name) == other.said(name)]
    assert watch.every == {"figures/a", "limits/"}
    assert watch.beside() == {**bundle, "figures": {"a": {"label": "A"}}}


def test_what_passed_holds_while_what_was_seen_says_the_same() -> None:
    said = {"a": "1", "b, c": "2", "é:": "3"}
    passed = Passed()
    passed.add_of("key", said, said.__getitem__)
    again = Passed(str(passed).encode("ascii").decode().split())
    assert again.holds_of("key", said.__getitem__)
    assert not again.holds_of("other", said.__getitem__)
    for name in said:
        assert not again.holds_of("key", {**said, name: "4"}.__getitem__)
