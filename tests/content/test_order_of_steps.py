"""What must come first in a procedure stands first, whoever edits it next.

Each line says which step comes before which, and why. Unless it names a source it is common
practice. The check of bare metal is a rule of its own: `voltage_check_first`.
"""

import re

import pytest

from build_tools.sources.project import stem_of
from tests.project import project

PROCEDURES = {stem_of(each.file): each.value for each in project().of_kind("procedure")}
BEFORE = [
    # Gas under pressure comes out at whoever opens a point.
    ("tightness_test", "emergency_control_off", "let_down"),
    ("tightness_test", "let_down", "fit_gauge"),
    ("working_pressure", "gas_off_meter", "let_down"),
    ("working_pressure", "let_down", "open_meter_point"),
    # Bare metal before the let-by test: the register's article on Edition 4 of IGEM/UP/1B.
    ("tightness_test", "safe_to_touch", "let_by_pressure"),
    # A purge ends with flames, and so does the check of the working pressure.
    ("purging", "flue_and_air", "gas_on"),
    ("purging", "control_off", "purge_point"),
    ("working_pressure", "flue_and_air", "all_on"),
    # A device that is bridged is found before the burner that it guards is run.
    ("flue_open", "safety_device", "light_maximum"),
    ("heating_circuit", "overheat_device", "everything_open"),
    ("safe_functioning", "look_first", "ignition"),
    ("fire_and_back_boiler", "spill_devices", "fire_alone"),
    # Behind the fire, then each alone, then both.
    ("fire_and_back_boiler", "debris", "flue_flow"),
    ("fire_and_back_boiler", "closure_plate", "flue_flow"),
    ("fire_and_back_boiler", "fire_alone", "both"),
    ("fire_and_back_boiler", "boiler_alone", "both"),
    # An alarm that starts indoors may take fumes for clean air.
    ("before_you_start", "alarm", "smell"),
    ("before_you_start", "flue_and_air", "identify"),
    # People who are hurt before a form.
    ("unsafe_situations", "report_incident", "report_fitting"),
]
TURNED_OFF = re.compile(
    r"emergency control\b[^.]*\boff\b|\boff\b[^.]*\bemergency control", re.IGNORECASE
)


def steps(stem: str) -> dict[str, dict]:
    return {step["id"]: step for step in PROCEDURES[stem]["steps"]}


@pytest.mark.parametrize(("stem", "first", "later"), BEFORE)
def test_one_step_comes_before_another(stem: str, first: str, later: str) -> None:
    order = list(steps(stem))
    assert order.index(first) < order.index(later)


@pytest.mark.parametrize(
    ("stem", "step"),
    [
        ("tightness_test", "emergency_control_off"),
        ("purging", "control_off"),
        ("working_pressure", "gas_off_meter"),
        ("record_and_handover", "show_emergency"),
        ("before_you_start", "emergency_control"),
    ],
)
def test_who_turns_the_emergency_control_off_is_told_that_it_drops_pilots(stem, step) -> None:
    found = steps(stem)[step]
    assert "pilot" in found["caution"]
    assert "lit and proved again" in found["caution"]


def test_no_other_step_is_the_first_to_turn_it_off() -> None:
    firsts = {
        (stem, next((s["id"] for s in each["steps"] if TURNED_OFF.search(s["do"])), None))
        for stem, each in PROCEDURES.items()
    }
    assert {each for each in firsts if each[1]} == {
        ("tightness_test", "emergency_control_off"),
        ("purging", "control_off"),
        ("working_pressure", "gas_off_meter"),
        ("record_and_handover", "show_emergency"),
        ("unsafe_situations", "gas_escape"),  # it can't wait
    }


@pytest.mark.parametrize("stem", ["tightness_test", "working_pressure"])
def test_where_the_gas_goes_is_said(stem: str) -> None:
    let_down = steps(stem)["let_down"]
    told = str(let_down)
    for words in ("open burner", "outdoors", "Put out every flame", "Air the room"):
        assert words in told
    closing = {"tightness_test": "close_test_point", "working_pressure": "close_meter_point"}
    assert "let the pressure down" in steps(stem)[closing[stem]]["do"].lower()


def test_the_let_by_pressure_can_be_lowered_to_its_band() -> None:
    step = str(steps("tightness_test")["let_by_pressure"])
    assert "{tightness.let_by_low}" in step
    assert "{tightness.let_by_high}" in step
    assert "burn a little" in step


def test_a_report_names_to_whom_how_and_by_when() -> None:
    # SI 2013/1471 regulation 11(2): to the Executive, within 14 days.
    report = steps("unsafe_situations")["report_to"]
    assert "Health and Safety Executive" in report["do"]
    assert "online form for gas fitting reports" in report["do"]
    assert report["expect"] == "riddor.report_period"
    [dated_value] = project().figures["riddor.report_period"]["values"]
    assert dated_value["value"] == "14 day"


def test_the_user_is_told_of_regulation_34() -> None:
    step = steps("unsafe_situations")["say_the_law"]
    assert "know or suspect" in step["do"]
    assert "Regulation 34" in step["why"]
    assert "offence" in step["why"]
