"""What the appliances of a visit share: nothing of it may rest on what is one appliance's own."""

from __future__ import annotations

import json

import pytest

from build_tools.pages.handbook import make
from build_tools.pages.load_handbook import gathered
from build_tools.runtime import bundled_steps
from tests.project import project as the_project


@pytest.fixture(scope="module")
def shared() -> dict[str, set[str]]:
    """Names by kind."""
    found: dict[str, set[str]] = {}
    for key in make(*gathered(is_checked=False)).reading_facts["shared"]:
        kind, name = key.split(":")
        found.setdefault(kind, set()).add(name)
    return found


def test_the_plate_the_burner_and_the_flue_are_never_shared(shared):
    rooms = {name.split(".")[0] for name in shared["reading"]}
    own = {"plate", "instructions", "burner_pressure", "combustion", "room", "flue", "card"}
    assert not rooms & own
    rates = {name for name in shared["reading"] if name.startswith("gas_rate.")}
    assert rates <= {"gas_rate.meter_still", "gas_rate.meter_still_left"}
    assert {"tightness", "purge", "gas"} <= rooms
    assert shared["choice"] == {"gas", "age"}


def test_a_shared_outcome_takes_nothing_of_one_appliance(shared):
    project = the_project()
    steps = bundled_steps.steps(project)
    own = set(project.one("visit_record")) - shared["reading"]
    for name in shared["outcome"]:
        text = json.dumps(steps[name])
        assert not {each for each in own if f'"{each}"' in text}, name
    # The supply at the meter serves all, the pressure lost on the way to one does not.
    assert "working_pressure.meter_standing" in shared["outcome"]
    assert "working_pressure.inlet_working" not in shared["outcome"]
    assert "tightness_test.end_reading" in shared["outcome"]
    assert "gas_rate.stop_it" not in shared["outcome"]


def test_a_procedure_is_ticked_once_for_all_where_it_reads_nothing_of_one(shared):
    assert {"tightness_test", "purging"} <= shared["tick"]
    assert not shared["tick"] & {"burner_pressure", "before_you_start", "flue_open", "gas_rate"}
    assert "burner_pressure" not in shared["answer"]
