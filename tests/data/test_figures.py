"""The figures of data/ fit one another, the physics and what general libraries give.

The libraries know nothing of this project. Where a published figure is rounded, the tolerance is
that of its last digit.
"""

from datetime import date, timedelta
from math import pi, sqrt
from typing import Any

import pytest

from build_tools.runtime import bundle
from calcs.engine.units import Quantity, parse_quantity
from tests.project import project

MADE = bundle.contents(project())
FIGURES, TABLES = MADE["figures"], MADE["tables"]


def value(name: str) -> Any:
    """The newest value of a figure, as a quantity."""
    return parse_quantity(FIGURES[name]["values"][-1]["value"])


@pytest.mark.parametrize(
    ("figure", "row"),
    [
        (
            "pipe.roughness.copper",
            "Seamless tubes made from brass, copper, lead, aluminum, Commercially smooth",
        ),
        ("pipe.roughness.steel", "Seamless steel tubes, New and unused"),
    ],
)
def test_a_roughness_is_in_the_range_of_the_handbook(figure: str, row: str) -> None:
    from fluids.friction import HHR_roughness

    low, high, _ = HHR_roughness[row]
    assert low <= value(figure).to("m").m <= high


def test_the_draught_constant_is_that_of_air() -> None:
    from CoolProp.CoolProp import PropsSI

    for kelvin in (273.15, 288.15, 450.0):
        found = PropsSI("D", "T", kelvin, "P", 101325, "Air") * kelvin
        assert value("flue.draught_constant").m == pytest.approx(found, rel=1e-3)


def test_the_constant_of_the_teaching_rule_is_the_imperial_one() -> None:
    # 1350 ft³/h for one inch of bore, one inch of water, density one and one yard.
    flow = Quantity(1350, "ft**3/hour").to("m**3/hour").m
    bore, drop, length = (Quantity(1, unit) for unit in ("inch", "inch_water_gauge", "yard"))
    root = sqrt(bore.to("mm").m ** 5 * drop.to("mbar").m / length.to("m").m)
    assert value("pipe.pole_constant").m == pytest.approx(flow / root, rel=1e-4)


def test_the_billing_factor_follows_from_its_regulation() -> None:
    air = 1013.25 - value("billing.height_pressure").to("mbar").m
    pressure = (air + value("billing.meter_pressure").to("mbar").m) / 1013.25
    temperature = 288.15 / (273.15 + value("billing.meter_temperature").m)
    assert pressure * temperature == pytest.approx(value("billing.volume_correction").m, abs=5e-5)


def test_the_deduction_for_height_follows_from_its_table() -> None:
    # 66 m lies in the 27th step of 2.5 m: the first deducts 0.301, each of 26 more adds 0.3005.
    first = value("billing.height_deduction_first").m
    step = value("billing.height_deduction_step").m
    assert value("billing.height_pressure").m == pytest.approx(first + 26 * step, abs=0.005)


def test_the_trades_calorific_value_is_its_british_one() -> None:
    from scipy import constants

    per_foot = 1040 * constants.Btu / constants.foot**3 / 1e6
    held = value("gas.natural_gas.calorific_value_gross").to("MJ/m**3").m
    assert held == pytest.approx(per_foot, rel=5e-4)
    assert held == pytest.approx(10.76 * 3.6, rel=5e-4)


@pytest.mark.parametrize("gas", ["propane", "butane", "G20", "G25", "G30", "G31"])
def test_the_properties_of_a_gas_fit_one_another(gas: str) -> None:
    def held(name: str) -> float:
        return float(value(f"gas.{gas}.{name}").m)

    gross, net, root = (
        held("calorific_value_gross"),
        held("calorific_value_net"),
        sqrt(held("relative_density")),
    )
    assert held("gross_to_net") == pytest.approx(gross / net, abs=6e-4)
    assert held("wobbe_gross") == pytest.approx(gross / root, rel=1e-3)
    assert held("wobbe_net") == pytest.approx(net / root, rel=1e-3)


@pytest.mark.parametrize(
    ("gas", "fluid"), [("propane", "Propane"), ("G20", "Methane"), ("G31", "Propane")]
)
def test_the_density_of_a_gas_is_what_coolprop_gives(gas: str, fluid: str) -> None:
    from CoolProp.CoolProp import PropsSI

    density = PropsSI("D", "T", 288.15, "P", 101325, fluid)
    assert value(f"gas.{gas}.density").to("kg/m**3").m == pytest.approx(density, rel=1e-3)


def test_the_density_of_air_is_what_coolprop_gives() -> None:
    from CoolProp.CoolProp import PropsSI

    density = PropsSI("D", "T", 288.15, "P", 101325, "Air")
    assert value("air.density").to("kg/m**3").m == pytest.approx(density, rel=2e-4)


@pytest.mark.parametrize("row", TABLES["water_properties"]["values"][0]["rows"], ids=lambda r: r[0])
def test_water_is_what_coolprop_gives(row: list[str]) -> None:
    from CoolProp.CoolProp import PropsSI

    temperature, density, heat = (parse_quantity(cell) for cell in row)
    state = ("T", temperature.to("K").m, "P", 3e5, "Water")
    assert density.to("kg/m**3").m == pytest.approx(PropsSI("D", *state), rel=2e-4)
    assert heat.to("J/(kg*K)").m == pytest.approx(PropsSI("C", *state), rel=2e-3)


@pytest.mark.parametrize("row", TABLES["gas_components"]["values"][0]["rows"], ids=lambda r: r[0])
def test_a_molar_mass_is_that_of_its_atoms(row: list[str]) -> None:
    # IUPAC atomic weights, as ISO 6976 takes them.
    atoms = zip(row[2:6], (12.0107, 1.00794, 14.0067, 15.9994), strict=True)
    mass = sum(int(count) * weight for count, weight in atoms)
    assert parse_quantity(row[6]).to("g/mol").m == pytest.approx(mass, rel=2e-6)


@pytest.mark.parametrize(
    ("table", "material"),
    [("copper_tube", "copper"), ("polyethylene_pipe", "polyethylene"), ("steel_tube", "steel")],
)
def test_a_bore_gives_the_published_volume(table: str, material: str) -> None:
    """Published volumes are rounded, and those of steel are of a wider tube than medium."""
    volumes = {
        row[1]: parse_quantity(row[2]).to("m**2").m
        for row in TABLES["pipe_volumes"]["values"][-1]["rows"]
        if row[0] == material
    }
    columns = [column["name"] for column in TABLES[table]["columns"]]
    compared = 0
    for row in TABLES[table]["values"][-1]["rows"]:
        bore = parse_quantity(row[columns.index("bore")]).to("m").m
        if row[0] in volumes and not (row[0] in {"15 mm", "22 mm"} and row[1] == "1.0 mm"):
            near = 0.2 if material == "steel" else 0.07
            assert pi * bore**2 / 4 == pytest.approx(volumes[row[0]], rel=near)
            compared += 1
    assert compared >= 4


@pytest.mark.parametrize("gas", ["natural_gas", "propane", "butane"])
def test_the_industrial_factor_is_its_leak_limit(gas: str) -> None:
    # A leak of `limit` m³/h at 1013.25 mbar lowers 1 m³ by 1 mbar in 60 / (1013.25 × limit) min.
    limit = value(f"industrial.leak_limit.{gas}").to("m**3/hour").m
    factor = value(f"industrial.test_factor.{gas}").to("min/mbar/m**3").m
    assert 60 / (1013.25 * limit) == pytest.approx(factor, rel=0.01)


@pytest.mark.parametrize("gas", ["natural_gas", "propane"])
def test_the_gain_with_height_is_the_difference_of_densities(gas: str) -> None:
    difference = value("air.density") - value(f"gas.{gas}.density")
    gain = (difference * value("physics.gravity")).to("mbar/m").m
    held = value(f"working_pressure.height_gain.{gas}").to("mbar/m").m
    assert held == pytest.approx(gain, abs=6e-4)


def test_a_report_is_due_fourteen_days_after_the_information() -> None:
    """RIDDOR 2013, regulation 11(2): within 14 days of having the information."""
    due = date(2026, 3, 1) + timedelta(days=value("riddor.report_period").to("day").m)
    assert due == date(2026, 3, 15)
