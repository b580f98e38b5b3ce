"""An open-flued gas fire with a back boiler behind it: service or repair."""

from __future__ import annotations

from tests.drawn.burner import burner
from tests.drawn.visit import (
    COMBUSTION_CHECKS,
    HANDOVER,
    NO_RETEST,
    OUTSIDE,
    RESEAL,
    ROOM_MONOXIDE,
    WITHIN,
    Drawn,
    arrive,
    gas_rate,
    supply,
)

ANSWERS = {
    "gas": "natural_gas",
    "appliance": "fire_back_boiler",
    "burner": "injectors",
    "flue": "open",
    "work": "repair",
    "age": "existing",
}
PAGES = [
    "before_you_start",
    "ventilation",
    "flue_open",
    "fire_and_back_boiler",
    "working_pressure",
    "burner_pressure",
    "gas_rate",
    "combustion_check",
    "co_in_room",
    "safe_functioning",
    "heating_circuit",
    "reseal_and_retest",
    "record_and_handover",
]
# One rate, no figure for carbon dioxide in its instructions, and a heating system that is open to
# the air: it has no vessel and no pressure to fill to. Nothing of its water side was timed.
EMPTY = NO_RETEST | {
    *(
        "plate.burner_pressure_min",
        "plate.heat_input_net_min",
        "plate.heat_input_gross_min",
        "instructions.carbon_dioxide",
    ),
    *(f"burner_pressure.{when}_min" for when in ("found", "left", "cover_on")),
    *(f"combustion.{gas}_min" for gas in ("carbon_monoxide", "carbon_dioxide", "oxygen")),
    *(f"heating.{name}" for name in ("cold_pressure", "hot_pressure", "pre_charge", "vessel")),
    *("heating.static_height", "heating.system_volume", "heating.output"),
    *("heating.flow_temperature_max", "heating.return_temperature_max", "instructions.least_flow"),
    *("sensor.flow_resistance", "sensor.pipe_temperature"),
}
FLUE = {
    "flue_open.signs": "open_flue.no_signs",
    "flue_open.safety_device": "open_flue.device",
    "flue_open.follow": "open_flue.followed",
    "flue_open.chimney": "open_flue.catchment_clear",
    "flue_open.terminal": "open_flue.terminal",
    "flue_open.smoke_pellet": "open_flue.flow",
    "flue_open.look_everywhere": "open_flue.no_leak",
    "flue_open.smoke_match": "open_flue.no_spillage",
    "flue_open.fans_on": "open_flue.no_spillage_fans",
    "flue_open.doors_open": "open_flue.no_spillage_doors",
}
AIR = {
    "ventilation.permanent": "ventilation.permanent",
    "ventilation.look_through": "ventilation.clear",
    "ventilation.breathe_test": "ventilation.drifts_in",
}
BEHIND = {
    "fire_and_back_boiler.pair": "fire_back_boiler.pair",
    "fire_and_back_boiler.air": "fire_back_boiler.air",
    "fire_and_back_boiler.debris": "fire_back_boiler.space_clear",
    "fire_and_back_boiler.ways_in": "fire_back_boiler.no_ways_in",
    "fire_and_back_boiler.closure_plate": "fire_back_boiler.closure_plate",
    "fire_and_back_boiler.boiler_flue": "fire_back_boiler.boiler_flue",
    "fire_and_back_boiler.spill_devices": "fire_back_boiler.devices",
    "fire_and_back_boiler.flue_flow": "fire_back_boiler.flow",
    "fire_and_back_boiler.refit": "fire_back_boiler.joint",
    "fire_and_back_boiler.devices_act": "fire_back_boiler.devices_act",
}
SPILLAGE = {
    "fire_and_back_boiler.fire_alone": "fire_back_boiler.spillage_fire",
    "fire_and_back_boiler.boiler_alone": "fire_back_boiler.spillage_boiler",
    "fire_and_back_boiler.both": "fire_back_boiler.spillage_both",
    "fire_and_back_boiler.fans": "fire_back_boiler.spillage_fans",
}
HEATING = {
    "heating_circuit.overheat_device": "heating.overheat_device",
    "heating_circuit.pump_runs": "heating.pump_runs",
    "heating_circuit.overrun": "heating.overrun",
}
VENTED = {
    "heating_circuit.safety_valve_outlet": "heating.safety_valve_outlet",
    "heating_circuit.by_pass": "heating.by_pass",
}
AREA_PER_KW, ALLOWANCE_KW = 5, 7  # cm², BS 5440-2, an ordinary building
CATCHMENT_MM, SPIGOT_MM = 250, 25  # instructions of gas fires
RATIO = 0.008  # HSE report: as left, boilers


def draw(seed: int) -> Drawn:
    """A visit to one."""
    visit = Drawn("fire with a back boiler", seed, dict(ANSWERS), list(PAGES), empty=set(EMPTY))
    net = visit.between(13, 19)
    arrive(visit, net, injectors=True)
    _air(visit, net)
    _flue(visit)
    _behind(visit)
    inlet = supply(visit)
    burner(visit, net, inlet, ends=("max",))
    gas_rate(visit, net, visit.between(0.93, 1.01, 2))
    _combustion(visit)
    visit.tried("air_proving", "overrun", "turn_down")
    visit.looked_at({**HEATING, **VENTED}, *VENTED.values())
    visit.looked_at(RESEAL)
    visit.looked_at(HANDOVER)
    return visit


def _air(visit: Drawn, net: float) -> None:
    visit.looked_at(AIR, "ventilation.drifts_in")
    visit.read("ventilation.boiler_input", net, "kW")
    fire = visit.read("ventilation.fire_input", visit.between(4, 6.5), "kW")
    visit.readings |= {"ventilation.room_use": "living", "ventilation.building": "ordinary"}
    needed = AREA_PER_KW * (net + fire - ALLOWANCE_KW)
    # A vent that is measured may be off by a tenth.
    area = visit.read("ventilation.area_fitted", needed * visit.draw.choice([0.7, 1.3]), "cm²", 0)
    off = f"low by {needed - area:.1f} cm²" if area < needed else ""
    for step in ("ventilation.measure_free_area", "flue_open.air_first"):
        visit.says(step, OUTSIDE if off else WITHIN, off)


def _flue(visit: Drawn) -> None:
    visit.looked_at(FLUE, wrong=visit.one_of(["open_flue.catchment_clear", ""]))
    for name, step in (
        ("room.carbon_monoxide_off", "flue_open.room_before"),
        ("open_flue.room_carbon_monoxide", "flue_open.room_after"),
    ):
        _room(visit, name, step)
    # The combustion check asks for the room's air too, and has it from here.
    visit.says("combustion_check.room_air", visit.states["flue_open.room_before"])


def _room(visit: Drawn, name: str, step: str) -> None:
    found = visit.read(name, float(visit.draw.randint(0, 4)), "ppm", 0)
    visit.says(step, WITHIN if found < ROOM_MONOXIDE else OUTSIDE)


def _behind(visit: Drawn) -> None:
    visit.looked_at(BEHIND, wrong=visit.one_of(["fire_back_boiler.closure_plate", ""]))
    depth = visit.read("fire_back_boiler.catchment_depth", visit.between(230, 320), "mm", 0)
    while abs(depth - CATCHMENT_MM) < 10:  # a tape measure can't tell
        depth = visit.read("fire_back_boiler.catchment_depth", visit.between(230, 320), "mm", 0)
    off = f"low by {CATCHMENT_MM - depth:.0f} mm" if depth < CATCHMENT_MM else ""
    visit.says("fire_and_back_boiler.catchment", OUTSIDE if off else WITHIN, off)
    spigot = visit.read("fire_back_boiler.spigot", float(visit.draw.choice([20, 30, 35])), "mm", 0)
    visit.says("fire_and_back_boiler.spigot", WITHIN if spigot >= SPIGOT_MM else OUTSIDE)
    spills = visit.one_of(["fire_back_boiler.spillage_fans", "", ""])
    for step, name in SPILLAGE.items():
        visit.readings[name] = "it spills" if name == spills else "none"
        visit.says(step, WITHIN)
        if name == spills:
            visit.readings[f"{name}_left"] = "none"
            visit.says(step, WITHIN, "Within, put right.")
            visit.says(f"{step}.found", OUTSIDE)
    _room(visit, "fire_back_boiler.room_carbon_monoxide", "fire_and_back_boiler.room_after")


def _combustion(visit: Drawn) -> None:
    """In the primary flue, at its one rate."""
    visit.looked_at(COMBUSTION_CHECKS)
    dioxide, oxygen = 5.9, 10.5  # 11.8 × (20.9 − 10.45) ÷ 20.9
    visit.read("combustion.carbon_dioxide", dioxide, "%")
    visit.read("combustion.oxygen", oxygen, "%")
    monoxide = float(visit.draw.choice([20, 60, 110]))
    visit.read("combustion.carbon_monoxide", monoxide, "ppm", 0)
    visit.read("combustion.flue_temperature", visit.between(140, 190), "°C", 0)
    visit.read("combustion.air_temperature", visit.between(12, 22), "°C", 0)
    visit.read("instructions.combustion_ratio", RATIO, places=3)
    visit.says("combustion_check.read_instructions", WITHIN)
    ratio = monoxide / (dioxide * 10_000)
    visit.says("combustion_check.read_maximum", WITHIN if ratio <= RATIO else OUTSIDE)
