"""Every template of questions, with seeds of its own."""

import math
import re

import pytest

from build_tools.setup.paths import ROOT
from calcs.practice.draw import question, wrong_numbers
from calcs.practice.figures import split
from calcs.practice.integers import hash_of
from calcs.practice.put import put, why, worked
from tests.calcs.practice.held import bridge, pack
from tests.calcs.practice.proof import NUMBERS, SEEDS, prove
from tests.project import project

NAMES = sorted(path.stem for path in (ROOT / "content" / "practice").glob("*.yaml"))
ASKED = 8  # seeds of a template that asks a calculator, which takes longest
CHOSEN = 20  # of any other


@pytest.mark.parametrize("name", NAMES)
def test_what_a_template_gives_is_true_clear_and_marked_rightly(name: str) -> None:
    held = pack()
    asks = held.questions[name]
    is_worked_out = asks["asks"] in {*NUMBERS, "verdict"} or "'calculator'" in repr(asks)
    first = hash_of(name) % SEEDS  # others for each template, and the same on each run
    for seed in range(ASKED if is_worked_out else CHOSEN):
        prove(held, name, str((first + 67 * seed) % SEEDS))


def test_a_ratio_stays_a_ratio_where_the_answer_is_in_per_cent() -> None:
    # By hand: the gross input held against a net plate is 1.11 times the share, not 111 times.
    found = question(pack(), "plate_share", "7")
    made = {name: one.value / found.right for name, one in wrong_numbers(found, pack())}
    assert {name: round(times, 3) for name, times in made.items()} == {
        "gross_net": 1.11,
        "ratio_twice": round(1 / 1.11, 3),
    }


def number_of(text: str) -> float:
    """What a sum of figures comes to, by Python's own arithmetic: units are left out."""
    signs = {"×": "*", "÷": "/", "\N{MINUS SIGN}": "-", "√": "SQRT "}
    for sign, plain in signs.items():
        text = text.replace(sign, plain)
    bare = re.sub(r"(?<=\d)\s*%", "*0.01", text)
    bare = re.sub(r"(?<=\d)\s[^\W\d][^\s()]*", "", bare).replace("SQRT ", "math.sqrt")
    found: float = eval(bare, {"math": math})  # noqa: S307  the sums are our own
    return found


def test_a_sum_that_is_written_out_comes_to_the_answer() -> None:
    tried = []
    for name, template in pack().questions.items():
        if "made" in template.get("answer", {}):
            told = worked(question(pack(), name, "5"), pack())["sum"]
            if told:
                left, right = told.split(" = ")
                assert number_of(left) == pytest.approx(number_of(right), rel=0.01), (name, told)
                tried.append(name)
    assert len(tried) >= 15


def test_a_net_load_takes_the_gas_of_its_gross_heat() -> None:
    # By hand: kW are 3.6 MJ in an hour, and the net load is turned to gross before it is divided
    # by the gross calorific value.
    for seed in range(CHOSEN):
        found = question(pack(), "flow_of_load", str(seed))
        load, cv, ratio = (float(split(found.values[each])[0]) for each in ("load", "cv", "ratio"))
        assert found.right == pytest.approx(load * ratio * 3.6 / cv, rel=1e-3)


def test_what_is_judged_passes_with_some_figures_and_fails_with_others() -> None:
    # Inputs that contradict each other are never judged met, so the question would teach one word.
    for name, template in pack().questions.items():
        if template["asks"] == "verdict":
            found = {question(pack(), name, str(seed)).right for seed in range(CHOSEN)}
            assert {"meets", "does_not_meet"} <= found, name


def test_a_reason_of_its_own_is_told_and_not_that_of_the_step_that_is_right() -> None:
    held = pack()
    for name, template in held.questions.items():
        own = project().documents[f"content/practice/{name}.yaml"].value.get("why")
        if own and "items" not in template.get("pool", {}):
            found = question(held, name, "1")
            if found.items and found.asks not in {"order", "verdict"}:
                assert not worked(found, held)["because"], name
                assert why(found) in {found.case.get("why"), template["why"]}, name


def words_of(text: str) -> set[str]:
    return {*re.findall(r"[a-z]{3,}", text.lower())}


def test_the_words_for_an_option_are_those_of_its_calculator_and_of_no_other_option() -> None:
    """An option that is a letter says nothing by itself: words of another one would pass."""
    tried = []
    for name, template in pack().questions.items():
        answer = template.get("answer", {})
        inputs = bridge().reference.words(answer.get("calculator", "")).get("inputs", {})
        for field, behind in answer.get("with", {}).items():
            drawn = template.get("draw", {}).get(behind, {}) if isinstance(behind, str) else {}
            options = inputs.get(field, {}).get("options", {})
            for option, text in drawn.get("say", {}).items():
                alike = {each: len(words_of(text) & words_of(options[each])) for each in options}
                if option in alike and any(alike.values()):
                    best = [each for each in alike if alike[each] == max(alike.values())]
                    assert best == [option], (name, text, alike)
                    tried.append((name, option))
    assert len(tried) >= 6


# By hand, from the figures that the stem itself gives, in their order. Each is as exact as it is
# printed, so the answers agree to less than the last digit of one of them.
FROM_THE_STEM = {
    "co2_from_o2": lambda air, most, oxygen: most * (air - oxygen) / air,
    "undiluted": lambda monoxide, oxygen, air: monoxide * air / (air - oxygen),
}


@pytest.mark.parametrize("name", FROM_THE_STEM)
def test_the_answer_rests_on_the_figures_that_the_stem_gives(name: str) -> None:
    for seed in range(CHOSEN):
        found = question(pack(), name, str(seed))
        stem = put(found)["stem"]
        said = [float(each) for each in re.findall(r"(\d+(?:\.\d+)?)\s(?:%|ppm)", stem)]
        assert FROM_THE_STEM[name](*said) == pytest.approx(found.right, rel=1e-4), stem


def test_every_slip_that_has_words_is_made_by_a_question() -> None:
    held = pack()
    # Of verdicts and of what is read, whatever their template.
    said_when_judged = {"as_it_reads", "doubt_too_wide", "unit_other"}
    text = repr(held.questions)
    unused = [name for name in held.slips if f"'{name}'" not in text]
    assert [name for name in unused if name not in said_when_judged] == []
