"""Figures from a reader's own copies: used where they are asked for, laid aside by edition.

The figures here are invented; only what becomes of them is tried. From when Edition 4 of IGEM/UP/1B
is in force stands in data/ with its source.
"""

from __future__ import annotations

import pytest

DROP = "permissible_drop_natural_gas"
PERCEPTIBLE = "tightness.perceptible.digital_gauge_1dp"
EDITION_3, EDITION_4 = "IGEM/UP/1B Edition 3", "IGEM/UP/1B Edition 4"
AFTER, BEFORE = "2026-11-25", "2026-09-30"  # Edition 4 is in force from 1 October 2026


# Invented, and its edition is the one in force: three sizes, and a drop that falls with them.
ROWS = [["0.015 m³", "3 mbar"], ["0.025 m³", "2 mbar"], ["0.035 m³", "1 mbar"]]


def own(name: str, value: str, edition: str = "") -> list[dict[str, str]]:
    return [{"name": name, "value": value, "edition": edition}]


def table(rows=ROWS, edition: str = EDITION_4, name: str = DROP):
    return [{"name": name, "rows": rows, "edition": edition}]


def told(bridge, figures, today=AFTER):
    return bridge.reply({"action": "own", "today": today, "own": figures})["own"]


def test_a_figure_is_used_in_its_edition_and_laid_aside_in_another(bridge):
    figure = own(PERCEPTIBLE, "0.3 mbar", EDITION_4)
    assert told(bridge, figure)[PERCEPTIBLE]["state"] == "used"
    older = told(bridge, own(PERCEPTIBLE, "0.2 mbar", EDITION_3))[PERCEPTIBLE]
    assert older["state"] == "laid_aside"
    assert f"{EDITION_4} is in force" in older["text"]
    assert told(bridge, own(PERCEPTIBLE, "0.2 mbar", EDITION_3), BEFORE)[PERCEPTIBLE] == {
        **older,
        "state": "used",
        "text": told(bridge, figure)[PERCEPTIBLE]["text"],
    }


@pytest.mark.parametrize("value", ["three", "-1 mbar", "0.3 kW", "40 mbar", ""])
def test_what_can_be_no_such_figure_is_refused_beside_it(bridge, value):
    reply = told(bridge, own(PERCEPTIBLE, value, EDITION_4))
    assert reply[PERCEPTIBLE]["state"] == "refused"
    assert reply[PERCEPTIBLE]["text"]


def test_what_this_edition_does_not_know_is_passed_over(bridge):
    assert told(bridge, own("of.another_edition", "1 mbar")) == {}


def test_one_without_an_edition_may_be_of_any_and_is_laid_aside(bridge):
    assert told(bridge, own(PERCEPTIBLE, "0.3 mbar"))[PERCEPTIBLE]["state"] == "laid_aside"


def test_one_is_laid_aside_on_a_day_on_which_no_edition_has_it(bridge):
    early = told(bridge, table(), BEFORE)[DROP]
    assert early == {
        "state": "laid_aside",
        "text": "Laid aside: no edition is in force for it today.",
    }


def test_one_drop_is_not_taken_for_pipework_of_every_size(bridge):
    told_of = told(bridge, own(DROP, "3 mbar", EDITION_4))[DROP]
    assert told_of["state"] == "refused"
    assert "Type its rows" in told_of["text"]


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([], "1 to 40 rows"),
        ([["0.015 m³", "3 mbar"]] * 41, "1 to 40 rows"),
        ([["0.015 m³", ""]], "row 1 must be a number"),
        ([["0.015 m³", "3 mbar"], ["0.015 m³", "2 mbar"]], "row 2: the first figure must be"),
        ([["0.015 m³", "2 mbar"], ["0.025 m³", "3 mbar"]], "row 2: the drop cannot be greater"),
        ([["0.015 m³", "0 mbar"]], "row 1 must have figures above nought"),
        ([["0.015 kW", "3 mbar"]], "row 1 cannot be in “kW”"),
    ],
)  # fmt: skip
def test_rows_that_can_be_no_table_are_refused_with_the_row(bridge, rows, words):
    told_of = told(bridge, table(rows))[DROP]
    assert told_of["state"] == "refused"
    assert words in told_of["text"]


@pytest.mark.parametrize("kept", ["7", {}, ["0.3 mbar"]])
def test_another_form_is_refused_by_name(bridge, kept):
    request = {"action": "own", "today": AFTER, "own": kept}
    [refusal] = bridge.reply(request)["refused"]
    assert refusal["kind"] == "wrong_form"


def test_a_row_of_another_form_is_refused_beside_its_figure(bridge):
    for row in ("0.015 m³", ["0.015 m³"], {"drop": "3 mbar"}):
        assert told(bridge, table([row]))[DROP]["state"] == "refused"


def tightness(figures: list[dict[str, str]], **inputs: str):
    """A test of existing pipework, begun at 20.5 mbar."""
    typed = {
        "smell_of_gas": "no",
        "pipework": "existing",
        "appliances": "connected",
        "let_by_start": "8 mbar",
        "let_by_end": "8 mbar",
        "test_start": "20.5 mbar",
        "test_end": "19.7 mbar",
        "elapsed": "2 min",
        "installation_volume": "0.0136 m³",
        **inputs,
    }
    return {
        "calculator": "tightness_test",
        "today": AFTER,
        "inputs": {name: {"value": value} for name, value in typed.items()},
        "own": figures,
    }


def verdict(reply, name):
    return next(each for each in reply["answer"]["verdicts"] if each["name"] == name)


def test_a_calculator_takes_it_and_says_that_it_is_the_readers_own(bridge):
    bare = verdict(bridge.reply(tightness([])), "tightness")
    assert bare["outcome"] == "not_judged"
    figures = table()
    with_own = verdict(bridge.reply(tightness(figures)), "tightness")
    assert with_own["outcome"] == "meets"  # 20.5 − 19.7 = 0.8, well below the 3 that was typed
    assert with_own["provenance"] == "typed-by-reader"
    assert "Your own copy" in with_own["source"]
    fell = verdict(bridge.reply(tightness(figures, test_end="16.5 mbar")), "tightness")
    assert fell["outcome"] == "does_not_meet"  # 20.5 − 16.5 = 4.0


def test_a_larger_installation_is_held_to_its_own_row(bridge):
    # 20.5 − 18.9 = 1.6: within 3 of the first row, beyond 1 of the third.
    small = tightness(table(), test_end="18.9 mbar")
    large = tightness(table(), test_end="18.9 mbar", installation_volume="0.03 m³")
    assert verdict(bridge.reply(small), "tightness")["outcome"] == "meets"
    assert verdict(bridge.reply(large), "tightness")["outcome"] == "does_not_meet"
    # The rows of one request are none of the next one's.
    tighter = tightness(table([["0.015 m³", "1 mbar"]]), test_end="18.9 mbar")
    assert verdict(bridge.reply(tighter), "tightness")["outcome"] == "does_not_meet"
    [refusal] = bridge.reply({**large, "own": table([["0.015 m³", "1 mbar"]])})["refused"]
    assert refusal["field"] == "installation_volume"


def test_one_that_is_laid_aside_judges_nothing(bridge):
    older = table(edition=EDITION_3)
    assert verdict(bridge.reply(tightness(older)), "tightness")["outcome"] == "not_judged"


def test_one_that_a_calculator_does_not_look_up_changes_nothing(bridge):
    asked = {
        "calculator": "burner_pressure",
        "today": AFTER,
        "inputs": {"plate_max": {"value": "12.5 mbar"}, "found_max": {"value": "12.4 mbar"}},
    }
    figures = table()
    assert bridge.reply({**asked, "own": figures}) == bridge.reply(asked)


def test_an_override_of_the_request_goes_before_it(bridge):
    asked = tightness(table())
    reply = bridge.reply({**asked, "overrides": {DROP: "0.5 mbar"}})
    assert verdict(reply, "tightness")["outcome"] != "meets"


def test_steps_are_judged_by_it(bridge):
    readings = {
        "tightness.smell": "no smell",
        "pipework.appliances": "connected",
        "tightness.let_by_start": "8 mbar",
        "tightness.let_by_end": "8 mbar",
        "tightness.test_start": "20.5 mbar",
        "tightness.test_end": "19.7 mbar",
        "tightness.elapsed": "2 min",
        "pipework.installation_volume": "0.0136 m³",
        "pipework.size": "28 mm",
    }
    asked = {
        "action": "outcomes",
        "today": AFTER,
        "readings": {name: {"value": value} for name, value in readings.items()},
        "answers": {"age": "existing"},
        "steps": ["tightness_test.end_reading"],
    }
    bare = bridge.reply(asked)["outcomes"]["tightness_test.end_reading"]
    with_own = bridge.reply({**asked, "own": table()})["outcomes"]["tightness_test.end_reading"]
    assert bare["state"] != "within"
    provenances = {each["provenance"] for each in with_own["verdicts"]}
    assert "typed-by-reader" in provenances
