"""Another appliance that is lit while this one is timed: its gas is in the meter, and in the run.

The generator lets all of it through the run: the loss of pressure fits the flow that was timed, and
only the burner does not.
"""

import math
from datetime import date

import pytest

from calcs.domain.cross_check.examine import MISFITS, examine
from calcs.domain.cross_check.settle import settling
from calcs.engine.in_force import InForce
from tests.calcs.domain.cross_check.generator import visit
from tests.calcs.domain.cross_check.trial import case

ON = date(2026, 11, 25)
AT_METER, ON_RUN = "another_appliance", "another_on_the_same_run"
CHANCE_OF_TWO = 13.8  # χ² of two degrees of freedom that one visit in a thousand exceeds
RUN = ("meter_working", "inlet_working")
READ = ("plate_input", "plate_burner_max", "burner_max", "gas_rate", "calorific_value")


@pytest.fixture(scope="module")
def ref(bridge):
    return InForce(bridge.reference, ON)


def made(ref, seed, added, *names):
    of = visit(seed, "injectors", "natural_gas", {"another_appliance": added})
    of.read = {name: value for name, value in of.read.items() if name in names}
    return case(of, ref)


def test_where_its_gas_goes_through_the_run_the_run_fits_the_timed_flow(ref):
    """Eight visits together: a run that lost no more than this one's own gas is far less likely."""
    gained = []
    for seed in range(8):
        found = examine(made(ref, seed, 0.6, *READ, *RUN))
        assert found.outcome == MISFITS
        fits = {fit.signature.name: fit for family in found.families for fit in family.fits}
        assert fits[ON_RUN].left < CHANCE_OF_TWO
        gained.append(fits[ON_RUN].evidence - fits[AT_METER].evidence)
    assert math.fsum(gained) > math.log(100)


def test_another_timing_with_the_others_off_tells_it_from_a_slip_of_the_first(ref):
    """Timed twice with the others lit it is the same once more, and proves nothing."""
    here = made(ref, 3, 0.3, *READ, "gas_rate_min", "burner_min", "plate_burner_min")
    known = {one.name: one for one in here.signatures}
    pair = (known["gas_misread"], known[ON_RUN])
    data = ref.reference.cross_check["settling"]
    assert here.balance.confounding(*(one.errors for one in pair)) > 0.99
    assert settling(here, pair, data) == "others_off"
    alone = {**data, "takes": {"gas_rate": data["takes"]["gas_rate"]}, "pairs": []}
    assert settling(here, pair, alone) == "gas_rate"  # a slip is not made twice, so it parts them


@pytest.mark.parametrize("names", [READ[:3], (*RUN, "oxygen")])
def test_where_nothing_was_timed_nobody_speaks_of_it(ref, names):
    assert "another_appliance" not in examine(made(ref, 1, 0.0, *names)).unseen
