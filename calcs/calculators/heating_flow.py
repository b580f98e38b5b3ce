"""Heating flow: water flow that carries a heat output, or the heat that a flow carries."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.curves import from_table
from calcs.engine.declarations import (
    STATED,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    When,
)
from calcs.engine.errors import Impossible
from calcs.engine.findings import SETTING, Compare, Finding, Note
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q

TABLE = "water_properties"


def heating_flow(
    *,
    question: str,
    heat_output: Q | None = None,
    water_flow: Q | None = None,
    flow_temperature: Q,
    return_temperature: Q,
    ref: Any,
) -> dict[str, Q | None]:
    """Water flow, heat output and temperature drop of a heating circuit, each from the others.

    Args:
        question: "flow" for the flow that a heat needs, "output" for the heat that a flow carries.
        heat_output: Heat that the circuit must carry. [kW]
        water_flow: Flow in the return pipe. [litre/min]
        flow_temperature: Water that leaves the appliance. [degC]
        return_temperature: Water that comes back. [degC]
        ref: Uses the table `water_properties`.

    Returns:
        temperature_drop: Flow less return. [K]
        mass_flow: Mass of water that goes round. [kg/s]
        circuit_flow: Its volume in the return pipe, where pumps and meters sit. [litre/min]
        circuit_output: Heat that it carries. [kW]

    Raises:
        Impossible: The flow is not warmer than the return, or outside the table.

    Not covered: water with inhibitor or antifreeze, which carries less heat.

    >>> table = type(
    ...     "Ref",
    ...     (dict,),
    ...     {
    ...         "rows": lambda self, name: (
    ...             {
    ...                 "temperature": "0 °C",
    ...                 "density": "1000 kg/m³",
    ...                 "heat_capacity": "4 kJ/(kg*K)",
    ...             },
    ...             {
    ...                 "temperature": "99 °C",
    ...                 "density": "1000 kg/m³",
    ...                 "heat_capacity": "4 kJ/(kg*K)",
    ...             },
    ...         )
    ...     },
    ... )
    >>> from calcs.engine.units import Quantity
    >>> round_trip = heating_flow(
    ...     question="flow",
    ...     heat_output=Quantity(24, "kW"),
    ...     ref=table(),
    ...     flow_temperature=Quantity(70, "degC"),
    ...     return_temperature=Quantity(50, "degC"),
    ... )
    >>> round(round_trip["circuit_flow"].to("litre/min").magnitude, 9)
    18.0
    """
    hot, cool = flow_temperature.to("kelvin"), return_temperature.to("kelvin")
    temperature_drop = hot - cool
    if temperature_drop.magnitude <= 0:
        raise Impossible("return_temperature", "not_cooler")
    middle = (hot + cool) / 2
    heat_capacity = from_table(
        ref,
        TABLE,
        ("temperature", "heat_capacity"),
        field="flow_temperature",
        at=middle,
        unit="kJ/(kg*K)",
    )
    density = from_table(
        ref, TABLE, ("temperature", "density"), field="return_temperature", at=cool, unit="kg/m**3"
    )
    if question == "flow":
        mass_flow = (heat_output / (heat_capacity * temperature_drop)).to("kg/s")
        circuit_flow, circuit_output = (mass_flow / density).to("litre/min"), heat_output
    else:
        mass_flow = (water_flow * density).to("kg/s")
        circuit_flow = water_flow
        circuit_output = (mass_flow * heat_capacity * temperature_drop).to("kW")
    return {
        "temperature_drop": temperature_drop,
        "mass_flow": mass_flow,
        "circuit_flow": circuit_flow,
        "circuit_output": circuit_output,
    }


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], **_: Any) -> list[Finding]:
    """The flow against the least that the instructions want, and a drop that says nothing."""
    least, drop = given["least_flow"], answers["temperature_drop"]
    findings: list[Finding] = []
    if least is not None:
        governs = ("heating.least_flow",)
        flow = answers["circuit_flow"]
        findings.append(Compare("least_flow", flow, low=least, figures=governs, rule=SETTING))
    if si(drop) <= si(expanded(drop)):
        findings.append(Note("drop_in_uncertainty"))
    return findings


FOR_FLOW, FOR_OUTPUT = (When("question", (asked,)) for asked in ("flow", "output"))

CALCULATOR = Calculator(
    formula=heating_flow,
    inputs=(
        Choice("question", ("flow", "output"), default="flow"),
        Input("heat_output", "kW", 0.1, 5000, ("Btu/h",), when=FOR_FLOW, uncertainty=STATED),
        Input(
            "water_flow",
            "litre/min",
            low=0.1,
            high=20000,
            also=("m**3/h",),
            when=FOR_OUTPUT,
            read_with="flow_meter",
        ),
        Input("flow_temperature", "degC", 1, 110, ("degF",), read_with="thermometer"),
        Input("return_temperature", "degC", 1, 110, ("degF",), read_with="thermometer"),
        Input(
            "least_flow", "litre/min", 0.1, 20000, ("m**3/h",), optional=True, uncertainty=STATED
        ),
        Instrument("flow_meter", "water_flow", "litre/min", "flow_cup", 20, ("percent",)),
        Instrument("thermometer", "temperature", "delta_degC", "contact_thermometer", 20),
    ),
    outputs=(
        Output("temperature_drop", "delta_degC", places=1),
        Output("circuit_flow", "litre/min", places=2),
        Output("circuit_output", "kW", places=1),
    ),
    sources=(Cite("iapws", "IF97, region 1"),),
    uses=(TABLE, "heating.least_flow"),
    judge=judge,
    verdicts=("least_flow",),
    notes=("drop_in_uncertainty",),
    refusals=("not_cooler", "outside_table"),
)
