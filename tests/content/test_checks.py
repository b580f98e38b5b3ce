"""No set of answers leaves out a check that it needs, and none that can't be true is taken."""

from itertools import pairwise, product

import pytest

from tests.project import project

CONTENT = next(
    document.value
    for document in project().of_kind("procedure")
    if document.file.endswith("which_checks_apply.yaml")
)
QUESTIONS = CONTENT["questions"]
ANSWERS = [
    dict(zip(QUESTIONS, chosen, strict=True))
    for chosen in product(*(question["options"] for question in QUESTIONS.values()))
]
FLUED = {"flue": ["room_sealed", "open"]}
AIR_FROM_ROOM = {"flue": ["open", "flueless"]}
GAS_LET_OUT = {"work": ["fitted", "pipework"]}
# What must be examined after work on an appliance: SI 1998/2451 regulation 26(9), as changed by
# SI 2018/139. An appliance without a flue has none to examine, and no sample to draw from it.
LAW = [
    ("26(9)(a)", FLUED),
    ("(b)", {}),
    ("26(9)(c)", {}),
    ("26(9)(ca)", FLUED),
    ("26(9)(d)", {}),
]
# Which answers call for which page: the regulations, IGEM/UP/1B and BS 5440 for gas, flues and
# air, and the purpose of each check for the rest. Common practice.
NEEDED = [
    ("procedures/before_you_start", {}),
    ("procedures/tightness_test", GAS_LET_OUT),
    ("procedures/purging", GAS_LET_OUT),
    ("procedures/flue_room_sealed", {"flue": ["room_sealed"]}),
    ("procedures/flue_open", {"flue": ["open"]}),
    # A compartment needs its vents whatever flue the appliance has.
    ("procedures/ventilation", {}),
    ("calculators/co_in_room", AIR_FROM_ROOM),
    ("procedures/working_pressure", {}),
    ("procedures/burner_pressure", {"burner": ["injectors"]}),
    ("procedures/gas_air_ratio", {"burner": ["premix"]}),
    ("procedures/gas_rate", {}),
    ("procedures/combustion_check", FLUED),
    ("procedures/safe_functioning", {}),
    ("procedures/hot_water", {"appliance": ["combination_boiler", "water_heater"]}),
    (
        "procedures/heating_circuit",
        {"appliance": ["combination_boiler", "boiler", "fire_back_boiler"]},
    ),
    ("procedures/reseal_and_retest", {}),
    ("procedures/record_and_handover", {}),
]


def fits(when, answers) -> bool:
    return all(
        answers[name] in ([fit] if isinstance(fit, str) else fit) for name, fit in when.items()
    )


def chosen(answers):
    return [check for check in CONTENT["checks"] if fits(check.get("when", {}), answers)]


@pytest.mark.parametrize(("rule", "when"), LAW)
def test_the_laws_minimum_is_marked_for_every_set_of_answers(rule, when) -> None:
    for answers in ANSWERS:
        marked = any(rule in check.get("law", "") for check in chosen(answers))
        assert marked is fits(when, answers), answers


@pytest.mark.parametrize(("page", "when"), NEEDED)
def test_a_check_is_called_for_by_the_answers_that_need_it_and_by_no_others(page, when) -> None:
    for answers in ANSWERS:
        called = any(check.get("page") == page for check in chosen(answers))
        assert called is fits(when, answers), answers


BEHIND = "procedures/fire_and_back_boiler"


def test_what_lies_behind_a_fire_is_looked_at() -> None:
    # A fire and a boiler on one flue are tried alone and then together; a fire alone on an open
    # flue has the same space behind it. Common practice, and the instructions of gas fires.
    for answers in ANSWERS:
        called = any(check.get("page") == BEHIND for check in chosen(answers))
        pair = answers["appliance"] == "fire_back_boiler"
        alone = answers["appliance"] == "fire" and answers["flue"] == "open"
        assert called is (pair or alone), answers


def test_nothing_is_lit_before_its_flue_and_its_air_were_looked_at() -> None:
    # A purge ends with a flame at each appliance, and all later checks run it.
    by_flue = {
        "room_sealed": {"procedures/flue_room_sealed", "procedures/ventilation"},
        "open": {"procedures/flue_open", "procedures/ventilation"},
        "flueless": {"procedures/ventilation"},
    }
    for answers in ANSWERS:
        pages = [check.get("page") for check in chosen(answers)]
        lit = "procedures/purging" if fits(GAS_LET_OUT, answers) else "procedures/working_pressure"
        assert by_flue[answers["flue"]] <= set(pages[: pages.index(lit)]), answers


def test_each_check_of_the_table_is_spoken_for() -> None:
    assert {check.get("page") for check in CONTENT["checks"]} - {None} == {
        *(page for page, _ in NEEDED),
        BEHIND,
    }


def test_existing_pipework_is_tested_before_the_work_too() -> None:
    for answers in ANSWERS:
        tests = sum(c.get("page") == "procedures/tightness_test" for c in chosen(answers))
        opened = fits(GAS_LET_OUT, answers)
        assert tests == opened + (opened and answers["age"] == "existing"), answers


def test_a_gas_that_sinks_is_looked_for_low_down() -> None:
    for answers in ANSWERS:
        looked = any(check["id"] == "lpg" for check in chosen(answers))
        assert looked is (answers["gas"] in {"propane", "butane"})


def test_work_that_stands_earlier_asks_for_all_that_later_work_asks_for() -> None:
    # Step `work` says so of a visit where several things were done.
    for answers in ANSWERS:
        asked = [
            {check["id"] for check in chosen({**answers, "work": work})}
            for work in QUESTIONS["work"]["options"]
        ]
        assert all(more >= less for more, less in pairwise(asked)), answers
