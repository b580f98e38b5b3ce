"""The invented visit of `data/scenario/visit.yaml`: service or repair of its combination boiler.

What its steps say is written down here by hand, by the working that stands beside the readings.
"""

from __future__ import annotations

from build_tools.setup.paths import ROOT
from build_tools.sources.read_yaml import read_file
from tests.drawn.visit import NOT_JUDGED, OUTSIDE, TOO_CLOSE, Drawn
from tests.project import project

ANSWERS = {
    "gas": "natural_gas",
    "appliance": "combination_boiler",
    "burner": "injectors",
    "flue": "room_sealed",
    "work": "repair",
    "age": "existing",
}
PAGES = [
    "before_you_start",
    "ventilation",
    "flue_room_sealed",
    "working_pressure",
    "burner_pressure",
    "gas_rate",
    "combustion_check",
    "safe_functioning",
    "hot_water",
    "heating_circuit",
    "reseal_and_retest",
    "record_and_handover",
]
# It was tested for tightness too, though nothing but test points was opened.
BESIDE = {"before_you_start": "tightness_test"}
# What its pages ask for and this boiler has not: it stands open in the kitchen. The scenario has
# these of a boiler in a cupboard that the same visit looks at.
EMPTY = {
    *("compartment.boiler_input", "compartment.air_from"),
    *("compartment.fitted_high", "compartment.fitted_low"),
}
NO_VENTS = ("ventilation.permanent", "ventilation.clear", "compartment.use")
# Of open-flued and flueless appliances that the same visit looks at, by the same page.
OF_OTHERS = ("flueless.", "room_air.", "ventilation.")
# What its steps say where they do not say that it is within.
STATES = {
    # 9.8 of 12.5 ± 0.3 mbar, and 1.6 of 2.0 ± 0.3.
    "burner_pressure.found_maximum": OUTSIDE,
    "burner_pressure.found_minimum": OUTSIDE,
    # 23.01 of 27.0 kW: a tenth under it is 24.30.
    "burner_pressure.found_gas_rate": OUTSIDE,
    "flue_room_sealed.supports.found": OUTSIDE,
    # 12 l, and the vessel that is needed may be off by more than lies between.
    "heating_circuit.vessel_size": TOO_CLOSE,
    "safe_functioning.limit": NOT_JUDGED,
}
NOTES = {
    "appliance": "Wall-hung combination boiler, invented",
    "done": "A bracket fitted at the first elbow. Both burner pressures set to the plate.",
    "advice": "Look at it again in a year.",
    "instruments": "A gauge and an analyser, both calibrated this year.",
}


def asked(stem: str) -> set[str]:
    """The readings of a procedure's steps."""
    path = f"content/procedures/{stem}.yaml"
    steps = read_file(ROOT / path, path).value["steps"]
    each = [step.get("reading", []) for step in steps]
    return {name for one in each for name in ([one] if isinstance(one, str) else one)}


def visit() -> Drawn:
    """The visit, with all that its pages ask for."""
    scenario = project().one("scenario")["readings"]
    of_pages = set().union(*map(asked, [*PAGES, *BESIDE.values()])) & set(scenario)
    names = {name for name in of_pages - EMPTY if not name.startswith(OF_OTHERS)}
    readings = {name: scenario[name]["value"] for name in scenario if name in names}
    return Drawn(
        "Kitchen boiler",
        0,
        dict(ANSWERS),
        list(PAGES),
        readings=readings | dict.fromkeys(NO_VENTS, "does not apply"),
        states=dict(STATES),
        empty=set(EMPTY),
        beside=dict(BESIDE),
        notes=dict(NOTES),
    )
