"""What a drawn visit is, and what every kind of appliance has in common.

Figures come from a seed by the formulas written here, and so does what is expected of them: nothing
here asks `calcs`. A figure is drawn well clear of its limit on either side, further than any of the
instruments may be off, so that a person can say by eye how it comes out.
"""

from __future__ import annotations

import random
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

# Limits, each with where it is from. Pressures in mbar.
STANDING = (19.0, 30.0)  # BS 6400-1: lowest setting of the regulator, highest lock-up
SUPPLY = (19.0, 23.0)  # BS 6400-1: 21 ± 2
SIX_MINUTES = (18.5, 22.0)  # proposal for IGEM/G/13
PIPE_LOSS = 1.0  # BS 6891
HEAT_INPUT = (0.90, 1.05)  # of the plate: practice of the trade
CALORIFIC = (37.5, 43.0)  # MJ/m³, from the gas bill
NET_CALORIFIC = 34.02  # MJ/m³ of G20: EN 437
NET_TO_GROSS = 1.11  # natural gas: 37.78 ÷ 34.02, EN 437
ROOM_MONOXIDE = 30  # ppm, at which to stop: practice of the trade
DUCT_OXYGEN = 20.6  # %: instructions of room-sealed appliances
RATED_FLOW = 0.90  # of the hot water flow that the maker states
HEAT_OF_WATER = 4.186  # kJ/(kg K)

WITHIN, OUTSIDE, TOO_CLOSE, NOT_JUDGED = "within", "outside", "too_close", "not_judged"

# Steps that are answered by yes, no or does not apply.
ARRIVAL = {
    "before_you_start.smell": "arrival.no_smell",
    "before_you_start.people": "arrival.nobody_ill",
    "before_you_start.pipework_live": "arrival.not_live",
    "before_you_start.emergency_control": "arrival.emergency_control",
    "before_you_start.flue_and_air": "arrival.flue_and_air",
    "before_you_start.instruments": "arrival.instruments",
}
SUPPLY_CHECKS = {
    "working_pressure.look_at_regulator": "working_pressure.regulator",
    "working_pressure.test_inlet_point": "burner_pressure.inlet_tight",
    "working_pressure.test_meter_point": "working_pressure.meter_point_tight",
    "gas_rate.meter_still": "gas_rate.meter_still",
}
COMBUSTION_CHECKS = {
    "combustion_check.line_tight": "combustion.line_tight",
    "combustion_check.flue_and_air": "combustion.ready",
    "combustion_check.refit_plug": "reseal.sample_points",
    "combustion_check.sniff_joints": "combustion.no_leak",
}
RESEAL = {
    "reseal_and_retest.test_inlet_side": "reseal.inlet_side",
    "reseal_and_retest.test_burner_side": "reseal.burner_side",
    "reseal_and_retest.covers": "reseal.covers",
    "reseal_and_retest.sample_points": "reseal.sample_points",
    "reseal_and_retest.adjusters": "reseal.adjusters",
    "reseal_and_retest.final_run": "reseal.final_run",
}
HANDOVER = {
    "record_and_handover.examined": "handover.examined",
    "record_and_handover.who_gets_it": "handover.copy_given",
    "record_and_handover.show_controls": "handover.controls_shown",
    "record_and_handover.show_emergency": "handover.emergency_shown",
    "record_and_handover.show_alarm": "handover.alarm",
    "record_and_handover.say_the_signs": "handover.signs_told",
    "record_and_handover.never_do": "handover.dangers_told",
}
# What safe functioning takes, part by part.
PARTS = (
    *("ignition", "flame", "air_proving", "flame_failure", "thermostat", "limit"),
    *("spill_device", "overrun", "turn_down", "user_controls"),
)


@dataclass
class Drawn:
    """A visit, as somebody could have had it.

    Args:
        name: What it is of.
        seed: That it is drawn from.
        answers: Of the visit, an option by question.
        pages: Of its checks, in working order; one that serves two checks stands there twice.
        readings: As typed or chosen: "12.5 mbar", "yes".
        states: What each step must say.
        told: Words that the line of a step must have: how far off, or what is missing.
        empty: Readings that its pages ask for and that it does not have.
        own: Figures of the reader's own copy, as a page sends them.
        beside: A page that is none of its checks and is worked through all the same, by the page
            that it comes after.
        notes: What is written in words, by the field of the record.
    """

    name: str
    seed: int
    answers: dict[str, str]
    pages: list[str]
    readings: dict[str, str] = field(default_factory=dict)
    states: dict[str, str] = field(default_factory=dict)
    told: dict[str, str] = field(default_factory=dict)
    empty: set[str] = field(default_factory=set)
    own: list[dict[str, Any]] = field(default_factory=list)
    beside: dict[str, str] = field(default_factory=dict)
    notes: dict[str, str] = field(default_factory=dict)
    draw: random.Random = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        self.draw = random.Random(self.seed)  # noqa: S311  nothing here is a secret

    def read(self, name: str, value: float | str, unit: str = "", places: int = 1) -> float:
        """Take a reading, and give it as it stands on the instrument."""
        text = value if isinstance(value, str) else f"{value:.{places}f}"
        self.readings[name] = f"{text} {unit}".strip()
        return float(text) if not isinstance(value, str) else 0.0

    def says(self, step: str, state: str, words: str = "") -> None:
        self.states[step] = state
        if words:
            self.told[step] = words

    def judged(self, step: str, value: float, low: float, high: float) -> None:
        """A reading that a step holds to two limits."""
        self.says(step, WITHIN if low <= value <= high else OUTSIDE)

    def looked_at(self, steps: dict[str, str], *not_there: str, wrong: str = "") -> None:
        """Checks by a word. One that was wrong is put right and looked at again."""
        for step, reading in steps.items():
            if reading in not_there:
                self.readings[reading] = "does not apply"
                continue
            self.readings[reading] = "yes"
            self.says(step, WITHIN)
            if reading == wrong:
                self.readings[reading] = "no"
                self.readings[f"{reading}_left"] = "yes"
                self.says(step, WITHIN, "Within, put right.")
                self.says(f"{step}.found", OUTSIDE)

    def tried(self, *not_there: str) -> None:
        """The parts of safe functioning."""
        for part in PARTS:
            name = f"safe_functioning.{part}"
            self.readings[name] = "does not apply" if part in not_there else "done"
            if part not in not_there:
                self.says(name, WITHIN)

    def between(self, low: float, high: float, places: int = 1) -> float:
        return round(self.draw.uniform(low, high), places)

    def one_of(self, those: Iterable[str]) -> str:
        return self.draw.choice(list(those))


def number(visit: Drawn, name: str) -> float:
    """A figure that was read before."""
    return float(visit.readings[name].split()[0])


def arrive(visit: Drawn, net: float, *, injectors: bool) -> None:
    """The look before the start, the plate and what the instructions add."""
    visit.looked_at(ARRIVAL)
    visit.read("plate.heat_input_net", net, "kW")
    visit.read("plate.inlet_pressure", 20.0, "mbar", 0)
    visit.read("plate.gas_rate", net * 3.6 / NET_CALORIFIC, "m³/h", 2)
    visit.read("instructions.inlet_working_low", visit.between(17, 18), "mbar")
    if injectors:
        visit.read("instructions.burner_pressure_tolerance", visit.between(0.3, 0.4), "mbar")


def supply(visit: Drawn, wrong: str = "") -> float:
    """Pressures at the meter and at the inlet; gives that at the inlet at full load."""
    visit.looked_at(SUPPLY_CHECKS, wrong=wrong)
    standing = visit.between(21.5, 24.5)
    visit.read("working_pressure.meter_standing", standing, "mbar")
    visit.judged("working_pressure.meter_standing", standing, *STANDING)
    visit.read("working_pressure.inlet_standing", standing, "mbar")
    visit.judged("working_pressure.inlet_standing", standing, *STANDING)
    working = visit.between(20.0, 21.5)
    visit.read("working_pressure.meter_full_load", working, "mbar")
    visit.judged("working_pressure.meter_working", working, *SUPPLY)
    mean = visit.read("working_pressure.meter_mean_full_load", working - 0.1, "mbar")
    visit.judged("working_pressure.six_minute_mean", mean, *SIX_MINUTES)
    # The loss may be off by 0.18 mbar. Where too much is lost, one reading at the appliance does
    # not tell if the pipework or what lies behind its end loses it, while the appliance has enough.
    lost = visit.between(0.3, 0.7) if visit.draw.random() < 0.7 else visit.between(1.3, 1.7)
    inlet = visit.read("working_pressure.inlet_full_load", working - lost, "mbar")
    visit.says("working_pressure.inlet_working", WITHIN if lost <= PIPE_LOSS else TOO_CLOSE)
    return inlet


def gas_rate(visit: Drawn, net: float, of_plate: float) -> None:
    """A timed run of the meter that comes out at a share of the plate's net input."""
    if "gas.calorific_value_gross" not in visit.readings:
        visit.read("gas.calorific_value_gross", visit.between(38.3, 39.7), "MJ/m³")
    value = number(visit, "gas.calorific_value_gross")
    visit.judged("gas_rate.calorific_value", value, *CALORIFIC)
    visit.read("plate.heat_input_gross", net * NET_TO_GROSS, "kW")
    elapsed = float(visit.draw.randint(240, 260))
    volume = round(net * of_plate * NET_TO_GROSS * elapsed / (value * 1000), 3)
    first = visit.between(1000, 8000, 3)
    visit.read("gas_rate.index_first", first, "m³", 3)
    visit.read("gas_rate.index_second", first + volume, "m³", 3)
    visit.read("gas_rate.elapsed", elapsed, "s", 0)
    found = volume * value * 1000 / elapsed / NET_TO_GROSS
    low, high = (share * net for share in HEAT_INPUT)
    off = f"low by {net - found:.2f} kW" if found < low else f"high by {found - net:.2f} kW"
    inside = low <= found <= high
    visit.says("gas_rate.stop_it", WITHIN if inside else OUTSIDE, "" if inside else off)


def hot_water(visit: Drawn, into_the_water: float) -> None:
    """A vessel caught at the tap: the flow at the stated rise is the heat over that rise."""
    rise = 30.0
    cold = visit.between(8, 14)
    hot = cold + visit.between(30, 38)
    collected = 5.0
    flow = into_the_water / (HEAT_OF_WATER * (hot - cold)) * 60
    elapsed = visit.read("hot_water.elapsed", collected / flow * 60, "s")
    visit.read("hot_water.collected", collected, "l", 0)
    visit.read("hot_water.cold", cold, "°C")
    visit.read("hot_water.hot", hot, "°C")
    at_rise = collected / elapsed * 60 * (hot - cold) / rise
    # The maker states what a sound one gives, or more than this one does by a quarter.
    is_right = visit.draw.random() < 0.7
    stated = visit.read("plate.hot_water_flow", at_rise * (1.02 if is_right else 1.25), "l/min")
    visit.read("plate.hot_water_rise", rise, "K", 0)
    visit.says("hot_water.hot_out", WITHIN if at_rise >= stated * RATED_FLOW else OUTSIDE)
    visit.looked_at({"hot_water.tap_shut": "hot_water.shuts_off"})


def gas_for_hot_water(visit: Drawn, net: float, of_plate: float) -> None:
    """The meter timed while the tap runs: the same share of the plate as without."""
    elapsed, value = 250.0, number(visit, "gas.calorific_value_gross")
    volume = net * of_plate * NET_TO_GROSS * elapsed / (value * 1000)
    volume = visit.read("gas_rate.hot_water_volume", volume, "m³", 3)
    visit.read("gas_rate.hot_water_elapsed", elapsed, "s", 0)
    low, high = (share * net for share in HEAT_INPUT)
    visit.judged(
        "hot_water.gas_at_maximum", volume * value * 1000 / elapsed / NET_TO_GROSS, low, high
    )


# Asked for where pipework was disturbed: after a service or a repair nothing but test points was.
# What a step only says that it may be worth while to take.
OPTIONAL = {
    *("gas_rate.again_volume", "gas_rate.again_elapsed", "combustion.efficiency_shown"),
    *("gas_rate.minimum_volume", "gas_rate.minimum_elapsed", "analyser.carbon_dioxide_by"),
}
NO_RETEST = {
    *("pipework.appliances", "pipework.installation_volume"),  # a test is held to their limit
    *("tightness.retest_smell", "tightness.retest_let_by_start", "tightness.retest_let_by_end"),
    *("tightness.retest_start", "tightness.retest_end", "tightness.retest_elapsed"),
}


def is_on(step: str, pages: Iterable[str]) -> bool:
    """Whether a step is on one of the pages."""
    return step.partition(".")[0] in pages
