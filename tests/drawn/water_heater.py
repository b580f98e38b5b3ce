"""An instant water heater, room-sealed, in a cupboard, fitted to existing pipework."""

from __future__ import annotations

from tests.drawn import premix
from tests.drawn.burner import burner
from tests.drawn.visit import (
    COMBUSTION_CHECKS,
    HANDOVER,
    NET_TO_GROSS,
    OUTSIDE,
    RESEAL,
    ROOM_MONOXIDE,
    WITHIN,
    Drawn,
    arrive,
    gas_for_hot_water,
    gas_rate,
    hot_water,
    number,
    supply,
)

ANSWERS = {
    "gas": "natural_gas",
    "appliance": "water_heater",
    "burner": "injectors",
    "flue": "room_sealed",
    "work": "fitted",
    "age": "existing",
}
PAGES = [
    "before_you_start",
    "tightness_test",
    "tightness_test",
    "ventilation",
    "flue_room_sealed",
    "purging",
    "flue_room_sealed",
    "working_pressure",
    "burner_pressure",
    "gas_rate",
    "combustion_check",
    "safe_functioning",
    "hot_water",
    "reseal_and_retest",
    "record_and_handover",
]
# Typed by the reader from the edition in force. Invented: the handbook holds neither.
EDITION = "IGEM/UP/1B Edition 4"
PERCEPTIBLE_MBAR, PERMITTED_MBAR, TO_VOLUME_M3 = 0.2, 1.5, 0.02
OWN = [
    {
        "name": "tightness.perceptible.digital_gauge_1dp",
        "value": f"{PERCEPTIBLE_MBAR} mbar",
        "edition": EDITION,
        "at": "2026-11-28T08:00:00.000Z",
    },
    {
        "name": "permissible_drop_natural_gas",
        "rows": [[f"{TO_VOLUME_M3} m³", f"{PERMITTED_MBAR} mbar"]],
        "edition": EDITION,
        "at": "2026-11-28T08:00:00.000Z",
    },
]
SCOPE_M3 = 0.035  # IGEM/UP/1B: scope
LET_BY, TEST = (7.0, 10.0), (20.0, 21.0)  # mbar: IGEM/UP/1B
PURGE_SHARE, LEAST_PURGE_M3 = 1.5, 0.010
PURGE = {
    "purging.bond": "purge.bonded",
    "purging.leak_test": "purge.opened",
    "purging.clear_room": "purge.room_clear",
}
AREA_PER_KW = 5  # cm² of each vent, room-sealed, to outside: from memory in the handbook too


def draw(seed: int) -> Drawn:
    """A visit to one."""
    visit = Drawn("instant water heater", seed, dict(ANSWERS), list(PAGES), own=OWN)
    net = visit.between(17, 24)
    arrive(visit, net, injectors=True)
    visit.read("plate.heat_input_net_min", net / 3, "kW")
    visit.read("plate.heat_input_gross_min", net / 3 * NET_TO_GROSS, "kW")
    _tightness(visit)
    _compartment(visit, net)
    premix.flue(visit)
    _purge(visit)
    inlet = supply(visit, wrong=visit.one_of(["working_pressure.meter_point_tight", ""]))
    burner(visit, net, inlet, ends=("max", "min"))
    of_plate = visit.between(0.94, 1.01, 2)
    gas_rate(visit, net, of_plate)
    _combustion(visit)
    visit.tried("spill_device", "overrun")
    hot_water(visit, net * of_plate * 0.88)
    gas_for_hot_water(visit, net, of_plate)
    visit.looked_at(RESEAL)
    visit.looked_at(HANDOVER)
    return visit


def _tightness(visit: Drawn) -> None:
    """Before the work and after it, each with the drop that an existing installation may have."""
    visit.looked_at({"tightness_test.untested_joints": "tightness.untested_joints"})
    volume = visit.read("pipework.installation_volume", visit.between(0.01, 0.018, 4), "m³", 4)
    inside = WITHIN if volume <= SCOPE_M3 else OUTSIDE
    for step in ("tightness_test.volume", "purging.volume"):
        visit.says(step, inside)
    visit.readings |= {
        "pipework.appliances": "connected",
        "tightness.smell": "no smell",
        "tightness.retest_smell": "no smell",
    }
    visit.says("tightness_test.smell", WITHIN)
    _test(visit, "tightness.", visit.draw.choice([0.0, 0.8, 2.4]), "tightness_test.end_reading")
    _test(visit, "tightness.retest_", visit.draw.choice([0.0, 0.7]), "reseal_and_retest.retest")
    for step, name, limits in (
        ("tightness_test.let_by_pressure", "tightness.let_by_start", LET_BY),
        ("tightness_test.start_reading", "tightness.test_start", TEST),
    ):
        visit.judged(step, number(visit, name), *limits)
    visit.says("tightness_test.let_by_watch", WITHIN)


def _test(visit: Drawn, name: str, drop: float, step: str) -> None:
    let_by = visit.read(f"{name}let_by_start", visit.between(7.6, 9.4), "mbar")
    visit.read(f"{name}let_by_end", let_by, "mbar")
    at = "" if name.endswith("retest_") else "test_"
    start = visit.read(f"{name}{at}start", visit.between(20.3, 20.7), "mbar")
    visit.read(f"{name}{at}end", start - drop, "mbar")
    visit.read(f"{name}elapsed", 2.0, "min", 0)
    visit.says(step, WITHIN if drop <= PERMITTED_MBAR else OUTSIDE)


def _compartment(visit: Drawn, net: float) -> None:
    visit.readings["compartment.air_from"] = "outside"
    visit.read("compartment.boiler_input", net, "kW")
    needed = AREA_PER_KW * net
    for place in ("high", "low"):
        visit.read(f"compartment.fitted_{place}", needed * 1.3, "cm²", 0)
    is_small = visit.draw.random() < 0.3
    if is_small:
        visit.read("compartment.fitted_low", needed * 0.6, "cm²", 0)
    visit.says("ventilation.compartment_vents", OUTSIDE if is_small else WITHIN)
    visit.looked_at({"ventilation.compartment_use": "compartment.use"})
    visit.looked_at(
        {
            "ventilation.permanent": "ventilation.permanent",
            "ventilation.look_through": "ventilation.clear",
        }
    )


def _purge(visit: Drawn) -> None:
    visit.looked_at(PURGE)
    # IGEM/UP/1B: one and a half times the installation volume, and no less than 0.010 m³.
    least = max(PURGE_SHARE * number(visit, "pipework.installation_volume"), LEAST_PURGE_M3)
    needed = visit.read("purge.volume_needed", least + 0.0005, "m³", 3)
    first = visit.between(1000, 8000, 3)
    visit.read("purge.index_first", first, "m³", 3)
    passed = round(needed * visit.draw.choice([1.3, 0.6]), 3)
    visit.read("purge.index_second", first + passed, "m³", 3)
    visit.says("purging.watch_meter", WITHIN if passed >= needed else OUTSIDE)


def _combustion(visit: Drawn) -> None:
    """No level is held for a water heater: the instructions' ratio is what it is held to."""
    visit.looked_at(COMBUSTION_CHECKS)
    room = visit.read("room.carbon_monoxide_off", float(visit.draw.randint(0, 3)), "ppm", 0)
    visit.says("combustion_check.room_air", WITHIN if room < ROOM_MONOXIDE else OUTSIDE)
    limit = visit.read("instructions.combustion_ratio", 0.004, places=3)
    visit.says("combustion_check.read_instructions", WITHIN)
    visit.read("instructions.carbon_dioxide", 6.6, "%")
    for end, step, dioxide, oxygen in (
        ("", "read_maximum", 6.6, 9.2),  # 11.8 × (20.9 − 9.2) ÷ 20.9 = 6.6
        ("_min", "read_minimum", 3.6, 14.5),  # 11.8 × (20.9 − 14.5) ÷ 20.9 = 3.6
    ):
        visit.read(f"combustion.carbon_dioxide{end}", dioxide, "%")
        visit.read(f"combustion.oxygen{end}", oxygen, "%")
        monoxide = float(visit.draw.choice([15, 40, 500]))
        visit.read(f"combustion.carbon_monoxide{end}", monoxide, "ppm", 0)
        is_clean = monoxide / (dioxide * 10_000) <= limit
        visit.says(f"combustion_check.{step}", WITHIN if is_clean else OUTSIDE)
    visit.read("combustion.flue_temperature", visit.between(110, 150), "°C", 0)
    visit.read("combustion.air_temperature", visit.between(10, 22), "°C", 0)
