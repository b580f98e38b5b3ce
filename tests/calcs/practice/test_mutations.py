"""A changed page, limit or calculator changes its questions, or names those that no longer fit."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import pytest

from build_tools.runtime import bundle
from build_tools.site import trial_questions
from build_tools.sources.calculator_spec import from_registry
from build_tools.sources.project import Project
from build_tools.sources.rules import question_names
from calcs.bridge import Bridge
from calcs.practice.draw import NotDrawn, question
from tests.calcs.practice.held import bridge, pack
from tests.project import project
from tests.project_of_texts import from_texts

BURNER = "content/procedures/burner_pressure.yaml"


@cache
def texts() -> dict[str, str]:
    return {name: document.text for name, document in project().documents.items()}


def changed(file: str, *changes: tuple[str, str]) -> Project:
    """This project with one file changed."""
    text = texts()[file]
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return from_texts({**texts(), file: text}, from_registry()[0], date(2026, 11, 28))


def named(problems: Any) -> set[str]:
    return {problem.file.rpartition("/")[2] for problem in problems}


def test_a_step_that_is_renamed_names_the_questions_about_it() -> None:
    project = changed(BURNER, ("- id: set_maximum\n", "- id: set_the_maximum\n"))
    found = named(question_names.check(project))
    assert {"does_not_follow.yaml", "which_way.yaml", "order_set_pressure.yaml"} <= found


def test_steps_that_change_places_name_the_orders_that_they_break() -> None:
    project = changed(
        BURNER,
        ("- id: set_maximum\n", "- id: set_aside\n"),
        ("- id: set_minimum\n", "- id: set_maximum\n"),
        ("- id: set_aside\n", "- id: set_minimum\n"),
    )
    said = [str(each) for each in question_names.check(project)]
    assert any("order_set_pressure" in each and "'set_minimum' before" in each for each in said)


def test_an_if_that_is_taken_out_names_its_question() -> None:
    text = texts()[BURNER]
    start = text.index("      - {when: it creeps down while you watch")
    gone = text[start : text.index("\n", start) + 1]
    found = named(question_names.check(changed(BURNER, (gone, ""))))
    assert found == {"reading_equals_inlet.yaml"}  # its if was the second, and there is one now


def test_words_of_a_step_are_the_words_of_its_question() -> None:
    old = "The appliance is turning down. Give the heat"
    project = changed(BURNER, (old, "It is turning down. Give the heat"))
    right = trial_questions.practice_pack.make(project, "2026-11-28")["questions"]["creeps_down"]
    assert right["right"]["text"].startswith("It is turning down.")


def test_a_limit_that_changes_changes_the_key() -> None:
    made = bundle.make()
    limits = json.loads(json.dumps(made))
    held = pack()
    before = [question(held, "loss_verdict", str(seed)).right for seed in range(12)]
    for value in limits["figures"]["working_pressure.pipe_loss.natural_gas"]["values"]:
        value["value"] = "9 mbar"
    other = Bridge(json.dumps(limits, ensure_ascii=False))
    wide = replace(held, ask=other._reply, kept={})
    after = [question(wide, "loss_verdict", str(seed)).right for seed in range(12)]
    assert "does_not_meet" in before
    assert set(after) == {"meets"}


def without(note: str) -> Any:
    """The calculators as they would be without one of their notes."""

    def ask(request: Mapping[str, Any]) -> dict[str, Any]:
        reply = bridge()._reply(request)
        if "answer" in reply:
            answer = reply["answer"]
            answer["notes"] = [each for each in answer["notes"] if each["name"] != note]
        return reply

    return replace(pack(), ask=ask, kept={})


def test_a_calculator_that_no_longer_says_it_names_the_question() -> None:
    held = without("cubic_feet")
    only = {**held.questions["which_unit_was_it"]}
    only["cases"] = only["cases"][:1]
    fewer = replace(held, questions={"which_unit_was_it": only})
    with pytest.raises(NotDrawn, match=r"which_unit_was_it: .* does not give the note cubic_feet"):
        question(fewer, "which_unit_was_it", "1")


def test_an_output_that_is_gone_names_the_question() -> None:
    held = pack()
    other = {**held.questions["gas_rate_net"]}
    other["answer"] = {**other["answer"], "output": "heat_input"}
    with pytest.raises(NotDrawn, match=r"gas_rate_net: .* gas_rate gives no heat_input"):
        question(replace(held, questions={"gas_rate_net": other}), "gas_rate_net", "1")


def test_a_slip_at_the_right_answer_is_never_shown() -> None:
    held = pack()
    other = {**held.questions["gas_used"], "slips": [{"slip": "sign", "times": ["1.00005"]}]}
    with pytest.raises(NotDrawn, match=r"the slip sign lies at the right answer"):
        question(replace(held, questions={"gas_used": other}), "gas_used", "1")
