"""The figures that are asked of the room, over as many visits as a test run has time for.

`python -m tests.calcs.domain.cross_check.full_study` prints them over thousands. Here a figure may
miss what is asked by what chance does with so few visits: two and a half standard deviations.
"""

import math
from datetime import date
from random import Random

import pytest

from calcs.domain.cross_check.balance import Balance
from calcs.domain.cross_check.examine import FITS, HIDDEN, MISFITS, TOO_FEW, examine
from calcs.engine.in_force import InForce
from tests.calcs.domain.cross_check import study
from tests.calcs.domain.cross_check.generator import visit
from tests.calcs.domain.cross_check.trial import case

COUNT = 240
ON = date(2026, 11, 25)


@pytest.fixture(scope="module")
def ref(bridge):
    return InForce(bridge.reference, ON)


def slack(asked: float, count: int = COUNT) -> float:
    return 2.5 * math.sqrt(asked * (1 - asked) / count)


def test_visits_drawn_from_the_declared_model_misfit_as_often_as_stated(ref):
    count = 4000
    assert study.declared(count, ref) == pytest.approx(0.05, abs=slack(0.05, count))


@pytest.mark.parametrize(("at", "asked"), [(4, 0.80), (5, 0.92)])
def test_power_at_a_detectability(ref, at, asked):
    assert study.power(1000, at, ref) >= asked - slack(asked, 1000)


def test_sound_visits_are_left_alone_and_uncertainties_are_not_padded(ref):
    found = study.sound(2 * COUNT, ref)
    assert found["false alarms"] <= 0.06 + slack(0.06, 2 * COUNT)
    assert 0.82 <= found["mean of chi-square over degrees"] <= 1.13
    assert found["called wrong with confidence"] <= 0.01 + slack(0.01, 2 * COUNT)


def test_a_wrong_reading_is_found(ref):
    found = study.judged(study.wrong_readings(COUNT, 5, 15, ref))
    assert found["first"] >= 0.85 - slack(0.85)
    assert found["in two"] >= 0.93 - slack(0.93)
    assert found["among equally good"] >= 0.90 - slack(0.90)
    assert found["confident and wrong"] <= 0.02 + slack(0.02)


@pytest.mark.parametrize(("strong", "first", "two"), [(True, 0.95, 0.97), (False, 0.82, 0.90)])
def test_a_fault_is_found_by_its_family(ref, strong, first, two):
    found = study.judged(study.faulty(COUNT, strong=strong, ref=ref))
    flagged = round(found["flagged"] * COUNT)
    assert found["first"] >= first - slack(first, flagged)
    assert found["in two"] >= two - slack(two, flagged)
    assert found["in the set"] >= 0.90 - slack(0.90, flagged)
    # In each visit it is off its mean by about one.
    assert found["size of the set"] <= 1.6 + 2.5 / math.sqrt(flagged)
    assert found["confident and wrong"] <= 0.02 + slack(0.02)


def test_two_wrong_at_once_are_both_found(ref):
    assert study.two_wrong(100, ref) >= 0.85 - slack(0.85, 100)


def test_tails_that_are_heavier_than_declared(ref):
    assert study.sound(COUNT, ref, heavy=True)["false alarms"] <= 0.08 + slack(0.08)


def test_detectability_in_closed_form_is_that_of_simulation(ref):
    """The mean of χ² over many draws is its degrees and the square of the detectability."""
    balance: Balance = case(visit(5, "injectors", "natural_gas"), ref).balance
    chance, size = Random(6), 0.05
    at = balance.detectability({"gas_rate": size})
    squares = []
    for _ in range(1500):
        errors = {name: chance.gauss(0, u) for name, u in balance.uncertainties.items() if u}
        errors["gas_rate"] = errors.get("gas_rate", 0.0) + size
        white = balance.whitened(balance.shift(errors))
        squares.append(math.fsum(value * value for value in white))
    expected, spread = balance.degrees + at * at, 2 * (balance.degrees + 2 * at * at)
    assert sum(squares) / 1500 == pytest.approx(expected, abs=3 * math.sqrt(spread / 1500))


@pytest.mark.parametrize("burner", ["injectors", "premix"])
@pytest.mark.parametrize(
    "left",
    [
        ("plate_input", "gas_rate", "calorific_value"),
        ("plate_input", "burner_max", "plate_burner_max"),
        ("meter_working", "inlet_working"),
        ("oxygen",),
        (),
    ],
    ids=lambda names: "-".join(names) or "nothing",
)
def test_readings_that_can_say_nothing_are_too_few(ref, burner, left):
    made = visit(3, burner, "natural_gas")
    made.read = {name: value for name, value in made.read.items() if name in left}
    assert examine(case(made, ref)).outcome == TOO_FEW


def test_what_is_excluded_by_name_is_never_named_as_sure(ref):
    """A premix gauge off its nought and a calorific value a little off can't be told."""
    for seed in range(12):
        made = visit(seed, "premix", "natural_gas", {"gauge_zero": 0.4})
        del made.read["gauge_open"]
        found = examine(case(made, ref))
        assert found.outcome == HIDDEN or found.families[0].share < 0.9
        assert "gauge_zero" in found.unseen
        off = visit(seed, "injectors", "natural_gas")
        off.read["calorific_value"] *= 1.02
        told = examine(case(off, ref))
        assert told.outcome == FITS or told.families[0].name != "calorific_value"


def test_cubic_feet_are_named(ref):
    for seed in range(6):
        made = visit(seed, "injectors", "natural_gas")
        made.read["gas_rate"] *= 35.3147
        found = examine(case(made, ref))
        assert found.outcome == MISFITS
        assert found.families[0].name == "meter_units"
