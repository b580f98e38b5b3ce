"""A premix combination boiler, room-sealed, that condenses: service or repair."""

from __future__ import annotations

from tests.drawn.visit import (
    COMBUSTION_CHECKS,
    DUCT_OXYGEN,
    HANDOVER,
    NET_TO_GROSS,
    NO_RETEST,
    OUTSIDE,
    RESEAL,
    ROOM_MONOXIDE,
    WITHIN,
    Drawn,
    arrive,
    gas_for_hot_water,
    gas_rate,
    hot_water,
    supply,
)

ANSWERS = {
    "gas": "natural_gas",
    "appliance": "combination_boiler",
    "burner": "premix",
    "flue": "room_sealed",
    "work": "repair",
    "age": "existing",
}
PAGES = [
    "before_you_start",
    "ventilation",
    "flue_room_sealed",
    "working_pressure",
    "gas_rate",
    "gas_air_ratio",
    "combustion_check",
    "safe_functioning",
    "hot_water",
    "heating_circuit",
    "reseal_and_retest",
    "record_and_handover",
]
EMPTY = NO_RETEST | {
    *("compartment.air_from", "compartment.boiler_input"),
    *("compartment.fitted_high", "compartment.fitted_low"),
}
FLUE = {
    "flue_room_sealed.same_system": "room_sealed_flue.one_system",
    "flue_room_sealed.follow": "room_sealed_flue.followed",
    "flue_room_sealed.joints": "room_sealed_flue.joints",
    "flue_room_sealed.supports": "room_sealed_flue.supports",
    "flue_room_sealed.wall": "room_sealed_flue.wall",
    "flue_room_sealed.case_seal": "room_sealed_flue.case_seal",
    "flue_room_sealed.trap": "room_sealed_flue.trap",
    "flue_room_sealed.terminal_whole": "room_sealed_flue.terminal",
    "flue_room_sealed.plume": "room_sealed_flue.plume",
    "flue_room_sealed.smoke_along": "room_sealed_flue.smoke_along",
    "flue_room_sealed.refit_plug": "reseal.sample_points",
}
RATIO_CHECKS = {
    "gas_air_ratio.gas_and_label": "gas_air_ratio.same_gas",
    "gas_air_ratio.clean_first": "gas_air_ratio.clean",
    "gas_air_ratio.seal": "reseal.adjusters",
    "gas_air_ratio.leak_test": "reseal.opened",
}
HEATING = {
    "heating_circuit.safety_valve_outlet": "heating.safety_valve_outlet",
    "heating_circuit.overheat_device": "heating.overheat_device",
    "heating_circuit.pump_runs": "heating.pump_runs",
    "heating_circuit.by_pass": "heating.by_pass",
    "heating_circuit.overrun": "heating.overrun",
}
FROM_WINDOW_MM, GUARD_M = 300, 2.0  # BS 5440-1, with a fan; a guard is wanted below
RATIO, MONOXIDE_PPM = 0.0040, 350  # Technical Bulletin 143, where the maker gives nothing
COLD_FILL = (1.0, 1.5)  # bar: makers
VALVE_BAR, VALVE_MARGIN_BAR = 3.0, 0.3  # makers; the hot system stays that far below
AIR_OXYGEN, MOST_DIOXIDE = 20.9, 11.8  # %: formulas of analysers


def draw(seed: int) -> Drawn:
    """A visit to one."""
    visit = Drawn("premix combination boiler", seed, dict(ANSWERS), list(PAGES), empty=set(EMPTY))
    net = visit.between(18, 30)
    arrive(visit, net, injectors=False)
    visit.read("plate.heat_input_net_min", net / 5, "kW")
    visit.read("plate.heat_input_gross_min", net / 5 * NET_TO_GROSS, "kW")
    _in_a_room(visit)
    flue(visit)
    supply(visit)
    of_plate = visit.between(0.94, 1.01, 2) if visit.draw.random() < 0.7 else 0.85
    gas_rate(visit, net, of_plate)
    _ratio(visit)
    _combustion(visit)
    visit.tried("spill_device")
    hot_water(visit, net * of_plate * 0.95)
    gas_for_hot_water(visit, net, of_plate)
    _heating(visit, net)
    visit.looked_at(RESEAL)
    visit.looked_at(HANDOVER)
    return visit


def _in_a_room(visit: Drawn) -> None:
    """It stands open in a kitchen: a compartment and its vents there are not."""
    for name in ("ventilation.permanent", "ventilation.clear", "compartment.use"):
        visit.readings[name] = "does not apply"


def flue(visit: Drawn) -> None:
    wrong = visit.one_of(["room_sealed_flue.supports", "room_sealed_flue.joints", ""])
    visit.looked_at(FLUE, wrong=wrong)
    greatest = visit.read("instructions.flue_length", visit.between(6, 9), "m")
    length = visit.read("room_sealed_flue.length", visit.between(1.5, 4.5), "m")
    visit.says("flue_room_sealed.length", WITHIN if length <= greatest else OUTSIDE)
    visit.read("terminal.flue_kind", "with a fan")
    beside = float(visit.one_of(["240", "380", "450", "900"]))
    visit.read("terminal.beside_window", beside, "mm", 0)
    off = "" if beside >= FROM_WINDOW_MM else f"low by {FROM_WINDOW_MM - beside:.0f} mm"
    visit.says("flue_room_sealed.distances", OUTSIDE if off else WITHIN, off)
    height = visit.read("terminal.height", visit.between(2.2, 4), "m")
    visit.says("flue_room_sealed.guard", WITHIN if height >= GUARD_M else OUTSIDE)
    _duct(visit)


def _duct(visit: Drawn) -> None:
    is_fresh = visit.draw.random() < 0.8
    oxygen = visit.read("flue_integrity.oxygen", 20.9 if is_fresh else 19.8, "%")
    visit.read("flue_integrity.carbon_dioxide", 0.0 if is_fresh else 0.6, "%")
    state = WITHIN if oxygen >= DUCT_OXYGEN else OUTSIDE
    visit.says("flue_room_sealed.air_duct", state)
    visit.says("combustion_check.air_duct", state)


def _ratio(visit: Drawn) -> None:
    """Carbon dioxide as it was found and as it was left, at both ends of the range."""
    visit.looked_at(RATIO_CHECKS)
    inlet = visit.between(18.6, 20)
    visit.read("gas_air_ratio.inlet_found_max", inlet, "mbar")
    lowest = float(visit.readings["instructions.inlet_working_low"].split()[0])
    visit.says("gas_air_ratio.inlet", WITHIN if inlet >= lowest else OUTSIDE)
    visit.read("instructions.carbon_dioxide_tolerance", 0.2, "%")
    for end, target in (("max", visit.between(8.9, 9.3)), ("min", visit.between(8.5, 8.8))):
        visit.read(f"instructions.carbon_dioxide_{end}", target, "%")
        off = visit.draw.choice([0.0, 0.1, 0.5, -0.4])
        found = visit.read(f"gas_air_ratio.carbon_dioxide_found_{end}", target + off, "%")
        visit.read(f"gas_air_ratio.carbon_monoxide_found_{end}", visit.between(40, 110), "ppm", 0)
        side, step = ("low" if off < 0 else "high"), f"{end}imum"
        said = f"{side} by {abs(found - target):.1f} %" if abs(off) > 0.2 else ""
        visit.says(f"gas_air_ratio.found_{step}", OUTSIDE if said else WITHIN, said)
        visit.read(f"gas_air_ratio.carbon_dioxide_left_{end}", target, "%")
        visit.read(f"gas_air_ratio.carbon_monoxide_left_{end}", visit.between(20, 80), "ppm", 0)
        visit.says(f"gas_air_ratio.left_{step}", WITHIN)


def _combustion(visit: Drawn) -> None:
    """A sample at either end. The oxygen is what an analyser makes of the carbon dioxide."""
    visit.looked_at(COMBUSTION_CHECKS)
    room = visit.read("room.carbon_monoxide_off", float(visit.draw.randint(0, 3)), "ppm", 0)
    visit.says("combustion_check.room_air", WITHIN if room < ROOM_MONOXIDE else OUTSIDE)
    visit.read("instructions.combustion_ratio", RATIO, places=4)
    visit.says("combustion_check.read_instructions", WITHIN)
    target = visit.readings["instructions.carbon_dioxide_max"]
    visit.readings["instructions.carbon_dioxide"] = target
    for end, step, target in (
        ("", "read_maximum", visit.readings["gas_air_ratio.carbon_dioxide_left_max"]),
        ("_min", "read_minimum", visit.readings["gas_air_ratio.carbon_dioxide_left_min"]),
    ):
        visit.readings[f"combustion.carbon_dioxide{end}"] = target
        dioxide = float(target.split()[0])
        visit.read(f"combustion.oxygen{end}", AIR_OXYGEN * (1 - dioxide / MOST_DIOXIDE), "%")
        monoxide = float(visit.draw.choice([45, 80, 120, 520]))
        visit.read(f"combustion.carbon_monoxide{end}", monoxide, "ppm", 0)
        is_clean = monoxide / (dioxide * 10_000) <= RATIO and monoxide <= MONOXIDE_PPM
        visit.says(f"combustion_check.{step}", WITHIN if is_clean else OUTSIDE)
    visit.read("combustion.flue_temperature", visit.between(48, 70), "°C", 0)
    visit.read("combustion.air_temperature", visit.between(10, 22), "°C", 0)


def _heating(visit: Drawn, net: float) -> None:
    visit.looked_at(HEATING)
    cold = visit.read("heating.cold_pressure", visit.draw.choice([1.2, 1.3, 0.4]), "bar")
    visit.judged("heating_circuit.cold_pressure", cold, *COLD_FILL)
    hot = visit.read("heating.hot_pressure", cold + visit.between(0.3, 0.6), "bar")
    most = VALVE_BAR - VALVE_MARGIN_BAR
    visit.says("heating_circuit.hot_pressure", WITHIN if hot <= most else OUTSIDE)
    volume = float(visit.draw.randint(70, 120))
    visit.read("heating.system_volume", volume, "l", 0)
    # More than a quarter of the water is room enough for any doubt of it.
    visit.read("heating.vessel", volume * 0.35, "l", 0)
    visit.read("heating.static_height", visit.between(3, 5), "m")
    visit.read("heating.pre_charge", 1.0, "bar")
    visit.says("heating_circuit.vessel_size", WITHIN)
    drop = 15.0
    visit.read("heating.flow_temperature_max", 70.0, "°C", 0)
    visit.read("heating.return_temperature_max", 70.0 - drop, "°C", 0)
    output = visit.read("heating.output", net * visit.between(0.4, 0.7), "kW")
    flow = output * 60 / (HEAT_OF_WATER_L * drop)
    least = visit.read("instructions.least_flow", flow * visit.draw.choice([0.6, 1.3]), "l/min")
    visit.says("heating_circuit.heat_and_flow", WITHIN if flow >= least else OUTSIDE)
    # A sensor of 10 kΩ at 25 °C whose B is 3977 K has 1.74 kΩ at 70 °C.
    visit.read("sensor.flow_resistance", 1740.0, "Ω", 0)
    visit.read("sensor.pipe_temperature", 70 + visit.between(-1, 1), "°C")
    visit.says("heating_circuit.sensor_check", WITHIN)


HEAT_OF_WATER_L = 4.12  # kJ/(l K) of water at 55 to 70 °C: 4.186 × 0.985 kg/l
