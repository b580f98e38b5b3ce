"""Injector: what an orifice passes, how large it must be, and what another gas needs."""

from __future__ import annotations

import math

from calcs.domain.gas.calorific_value import heat_in_volume
from calcs.domain.gas.injector_findings import COEFFICIENT, judge
from calcs.engine.declarations import (
    COUNTED,
    STATED,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    When,
)
from calcs.engine.in_force import InForce
from calcs.engine.traced import Traced, named, si
from calcs.engine.traced_functions import square_root
from calcs.engine.units import Q, Quantity


def injector(
    *,
    question: str,
    gas: str,
    calorific_value_gross: Q,
    relative_density: Q,
    pressure: Q,
    diameter: Q | None = None,
    injectors: Q | None = None,
    discharge_coefficient: Q | None = None,
    heat_input: Q | None = None,
    basis: str,
    present_diameter: Q | None = None,
    new_gas: str | None = None,
    new_calorific_value_gross: Q | None = None,
    new_relative_density: Q | None = None,
    new_pressure: Q | None = None,
    ref: InForce,
) -> dict[str, Q | None]:
    """Gas through the injectors of a burner, asked in any direction.

    Args:
        question: "heat_input", "diameter", "coefficient" or "conversion".
        gas: Gas that flows; for a conversion, the one before it.
        calorific_value_gross: Heat in that gas, gross. [MJ/m**3]
        relative_density: Its density over that of air.
        pressure: Burner pressure, gauge. [mbar]
        diameter: Bore of one injector. [mm]
        injectors: How many there are; None is one.
        discharge_coefficient: Share of the flow without loss that one passes.
        heat_input: Heat input of all of them. [kW]
        basis: "net" or "gross", for the heat input and for a conversion.
        present_diameter: Bore before a conversion. [mm]
        new_gas: Gas after a conversion.
        new_calorific_value_gross: Heat in it, gross. [MJ/m**3]
        new_relative_density: Its density over that of air.
        new_pressure: Burner pressure after a conversion, gauge. [mbar]
        ref: Uses `air.density` and `gas.<gas>.gross_to_net`.

    Returns:
        density: Density of the gas. [kg/m**3]
        speed: Speed that the pressure gives it without loss. [m/s]
        area: Area of all the injectors. [mm**2]
        flow_rate: Gas that flows. [m**3/h]
        heat_input_gross: Heat input, gross. [kW]
        heat_input_net: Heat input, net. [kW]
        needed_diameter: Bore of one injector for the heat input. [mm]
        found_coefficient: Discharge coefficient that the readings give.
        wobbe_before: Wobbe index before a conversion, gross. [MJ/m**3]
        wobbe_after: Wobbe index after it, gross. [MJ/m**3]
        ratio_gross: New bore over old for the same gross heat input.
        ratio_net: The same for the same net heat input.
        new_diameter: Bore after the conversion. [mm]
        share_unchanged: Heat input of the new gas through the old injectors. [percent]

    Not covered: gas much warmer or colder than the reference state, pressures above a few tens of
    millibars, and the air that the jet draws in.

    >>> from calcs.engine.worked_example import in_force
    >>> ref = in_force({"air.density": "1.25 kg/m³", "gas.G20.gross_to_net": "1.1"})
    >>> flow = injector(
    ...     question="heat_input",
    ...     gas="G20",
    ...     calorific_value_gross=Quantity(36, "MJ/m**3"),
    ...     relative_density=Quantity(0.64, ""),
    ...     pressure=Quantity(10, "mbar"),
    ...     diameter=Quantity(2, "mm"),
    ...     discharge_coefficient=Quantity(1, ""),
    ...     basis="net",
    ...     ref=ref,
    ... )
    >>> flow["speed"].magnitude, round(flow["flow_rate"].magnitude, 9)
    (50.0, 0.565486678)
    """
    if question == "conversion":
        before = _wobbe(gas, calorific_value_gross, relative_density, ref)
        after = _wobbe(new_gas or gas, new_calorific_value_gross, new_relative_density, ref)
        return _conversion(before, after, (pressure, new_pressure), basis, present_diameter)
    if isinstance(discharge_coefficient, Traced) and discharge_coefficient.role == "figure":
        # The usual one, with as much uncertainty as such a figure has: JCGM 100, 4.3.7.
        uncertainty = si(ref[UNCERTAINTY]) / math.sqrt(3)
        discharge_coefficient.standard_uncertainty = Quantity(uncertainty, "")
    density = relative_density * ref["air.density"]
    speed = square_root(2 * pressure / density)
    gross_to_net = ref[f"gas.{gas}.gross_to_net"]
    number = Quantity(1.0, "") if injectors is None else injectors
    results: dict[str, Q | None] = {"density": density, "speed": speed}
    if question == "heat_input":
        area = _area(diameter, number)
        flow_rate = (discharge_coefficient * area * speed).to("m**3/h")
        results |= {"area": area, "flow_rate": flow_rate}
    else:
        gross = heat_input if basis == "gross" else heat_input * gross_to_net
        flow_rate = (gross / calorific_value_gross).to("m**3/h")
        results["flow_rate"] = flow_rate
    if question == "diameter":
        area = (flow_rate / (discharge_coefficient * speed)).to("mm**2")
        each = square_root(area / number / _quarter_pi())
        results |= {"area": area, "needed_diameter": each.to("mm")}
    if question == "coefficient":
        area = _area(diameter, number)
        results |= {"area": area, "found_coefficient": (flow_rate / (area * speed)).to("")}
    heat_input_gross = (flow_rate * calorific_value_gross).to("kW")
    return {
        **results,
        "heat_input_gross": heat_input_gross,
        "heat_input_net": heat_input_gross / gross_to_net,
    }


def _area(diameter: Q | None, number: Q) -> Q:
    return (_quarter_pi() * diameter * diameter * number).to("mm**2")


def _quarter_pi() -> Q:
    return named(Quantity(math.pi / 4, ""), "quarter_pi", "π ÷ 4", role="figure")


def _wobbe(gas: str, calorific_value_gross: Q, relative_density: Q, ref: InForce) -> tuple[Q, Q]:
    """Wobbe index of a gas, gross and net."""
    gross = calorific_value_gross / square_root(relative_density)
    return gross, gross / ref[f"gas.{gas}.gross_to_net"]


def _conversion(
    before: tuple[Q, Q], after: tuple[Q, Q], pressures: tuple[Q, Q], basis: str, present: Q | None
) -> dict[str, Q | None]:
    """Equal heat input before and after: heat goes with bore squared, Wobbe index and √pressure."""
    by_pressure = square_root(pressures[0] / pressures[1])
    ratio_gross = square_root(before[0] / after[0] * by_pressure)
    ratio_net = square_root(before[1] / after[1] * by_pressure)
    found: dict[str, Q | None] = {
        "wobbe_before": before[0],
        "wobbe_after": after[0],
        "ratio_gross": ratio_gross,
        "ratio_net": ratio_net,
        "share_unchanged": (after[0] / before[0] / by_pressure).to("percent"),
    }
    if present is not None:
        found["new_diameter"] = present * (ratio_gross if basis == "gross" else ratio_net)
    return found


UNCERTAINTY = "injector.discharge_coefficient_uncertainty"
GASES = ("natural_gas", "propane", "butane", "G20", "G25", "G30", "G31")
FLOW, SIZE, BACK, CONVERT = ("heat_input", "diameter", "coefficient", "conversion")
CONVERTING = When("question", (CONVERT,))


def _weight(name: str, gas: str, when: When | None = None) -> Input:
    return Input(
        name,
        "",
        low=0.3,
        high=3,
        default=f"gas.{{{gas}}}.relative_density",
        when=when,
        uncertainty=STATED,
    )


def _bore(name: str, when: When, *, optional: bool = False) -> Input:
    return Input(
        name,
        "mm",
        low=0.1,
        high=50,
        also=("inch",),
        when=when,
        optional=optional,
        uncertainty=STATED,
    )


def _pressure(name: str, when: When | None = None) -> Input:
    units = ("kPa", "inWG")
    return Input(name, "mbar", low=0.1, high=200, also=units, when=when, read_with="gauge")


CALCULATOR = Calculator(
    formula=injector,
    inputs=(
        Choice("question", (FLOW, SIZE, BACK, CONVERT), default=FLOW),
        Choice("gas", GASES, default="natural_gas"),
        _pressure("pressure"),
        _bore("diameter", When("question", (FLOW, BACK))),
        Input(
            "injectors",
            "",
            low=1,
            high=200,
            optional=True,
            when=When("question", (FLOW, SIZE, BACK)),
            uncertainty=COUNTED,
        ),
        Input(
            "discharge_coefficient",
            "",
            low=0.3,
            high=1,
            default=COEFFICIENT,
            when=When("question", (FLOW, SIZE)),
            uncertainty=STATED,
        ),
        Input(
            "heat_input",
            "kW",
            low=0.05,
            high=5000,
            also=("Btu/h",),
            when=When("question", (SIZE, BACK)),
            uncertainty=STATED,
        ),
        Choice("basis", ("net", "gross"), default="net"),
        _bore("present_diameter", CONVERTING, optional=True),
        Choice("new_gas", GASES, default="propane", when=CONVERTING),
        _pressure("new_pressure", CONVERTING),
        heat_in_volume("calorific_value_gross", "gas.{gas}.calorific_value_gross"),
        _weight("relative_density", "gas"),
        heat_in_volume(
            "new_calorific_value_gross", "gas.{new_gas}.calorific_value_gross", when=CONVERTING
        ),
        _weight("new_relative_density", "new_gas", CONVERTING),
        Instrument("gauge", "pressure", "mbar", "digital_gauge_1dp", also=("percent",)),
    ),
    outputs=(
        Output("flow_rate", "m**3/h", places=4),
        Output("heat_input_net", "kW", places=3),
        Output("heat_input_gross", "kW", places=3),
        Output("needed_diameter", "mm", places=3),
        Output("found_coefficient", "", places=3),
        Output("new_diameter", "mm", places=3),
        Output("ratio_net", "", places=4),
        Output("ratio_gross", "", places=4),
        Output("share_unchanged", "percent", places=0),
        Output("wobbe_before", "MJ/m**3", places=2),
        Output("wobbe_after", "MJ/m**3", places=2),
    ),
    sources=(Cite("burner_orifice_textbook", "flow through an orifice"),),
    uses=(
        UNCERTAINTY,
        "air.density",
        "gas.*.gross_to_net",
        "gas.*.calorific_value_gross",
        "gas.*.relative_density",
        COEFFICIENT,
    ),
    judge=judge,
    verdicts=("coefficient",),
    notes=("unchanged", "both_bases", "from_the_bore", "may_be_the_stamp"),
    refusals=("not_of_this_gas",),
    rulings=("can_be", "cannot_be", "less_than_a_clear_bore", "could_be_any"),
)
