"""Hot water: heat output from flow and temperature rise, and the flow at the rated rise."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.plausibility.watch_step import check_time
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
from calcs.engine.findings import SETTING, Compare, Finding, Run
from calcs.engine.units import Q, Quantity

TABLE = "water_properties"
RISES = ("water.specific_rate_rise", "water.brochure_rise")


def hot_water(
    *,
    method: str,
    flow: Q | None = None,
    collected: Q | None = None,
    elapsed: Q | None = None,
    cold: Q,
    hot: Q,
    rated_rise: Q,
    ref: Any,
) -> dict[str, Q | None]:
    """Heat that hot water carries from an appliance.

    Args:
        method: "flow" for a flow meter or cup, "vessel" for a timed vessel.
        flow: Flow at the outlet. [litre/min]
        collected: Water caught in the vessel. [litre]
        elapsed: Time it took. [s]
        cold: Temperature of the cold supply. [degC]
        hot: Temperature at the outlet. [degC]
        rated_rise: Temperature rise that the maker's flow is stated for. [K]
        ref: Uses `water.heat_capacity` and the table `water_properties`.

    Returns:
        water_flow: Flow at the outlet. [litre/min]
        temperature_rise: Outlet less supply. [K]
        heat_output: Heat by the trade's rule: one litre is one kilogram. [kW]
        heat_output_by_density: The same with the water's mass and heat capacity as they are. [kW]
        flow_at_rated_rise: Flow that this heat would give at the rated rise. [litre/min]

    Raises:
        Impossible: The outlet is not warmer than the supply.

    Not covered: heat lost on the way to the tap, and stored water.

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
    >>> ref = table({"water.heat_capacity": Quantity(4, "kJ/(kg*K)")})
    >>> drawn = hot_water(
    ...     method="flow",
    ...     flow=Quantity(9, "litre/min"),
    ...     cold=Quantity(10, "degC"),
    ...     hot=Quantity(60, "degC"),
    ...     rated_rise=Quantity(30, "K"),
    ...     ref=ref,
    ... )
    >>> drawn["heat_output"].magnitude, drawn["flow_at_rated_rise"].magnitude
    (30.0, 15.0)
    """
    if method == "vessel" and collected is not None:
        flow = (collected / elapsed).to("litre/min")
    cold_absolute, hot_absolute = cold.to("kelvin"), hot.to("kelvin")
    temperature_rise = hot_absolute - cold_absolute
    if temperature_rise.magnitude <= 0:
        raise Impossible("hot", "not_hotter")
    one_kilogram = Quantity(1, "kg/litre")
    heat_output = (flow * one_kilogram * ref["water.heat_capacity"] * temperature_rise).to("kW")
    middle = (hot_absolute + cold_absolute) / 2
    density = from_table(
        ref, TABLE, ("temperature", "density"), field="hot", at=hot_absolute, unit="kg/m**3"
    )
    heat_capacity = from_table(
        ref, TABLE, ("temperature", "heat_capacity"), field="hot", at=middle, unit="kJ/(kg*K)"
    )
    return {
        "water_flow": flow,
        "temperature_rise": temperature_rise,
        "heat_output": heat_output,
        "heat_output_by_density": (flow * density * heat_capacity * temperature_rise).to("kW"),
        "flow_at_rated_rise": (flow * temperature_rise / rated_rise).to("litre/min"),
    }


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], **_: Any) -> list[Finding]:
    """The flow at the rated rise against what the maker states.

    Raises:
        Impossible: The time is finer than the watch shows.
    """
    check_time(given, ("elapsed",))
    stated = given["rated_flow"]
    if stated is None:
        return []
    timed = given["method"] == "vessel"
    run = Run(given["elapsed"], ("vessel", "stopwatch")) if timed else None
    return [
        Compare(
            "rated_flow",
            answers["flow_at_rated_rise"],
            low=stated * (1 - given["tolerance"]),
            figures=("water.rated_flow_tolerance",),
            rule=SETTING,
            # A tolerance either way would be as wide: a wider uncertainty tells nothing of it.
            span=2 * stated * given["tolerance"],
            run=run,
        )
    ]


BY_FLOW, BY_VESSEL = (When("method", (way,)) for way in ("flow", "vessel"))

CALCULATOR = Calculator(
    formula=hot_water,
    inputs=(
        Choice("method", ("flow", "vessel"), default="flow"),
        Input("flow", "litre/min", 0.1, 200, ("m**3/h",), when=BY_FLOW, read_with="flow_cup"),
        Input("collected", "litre", 0.1, 200, when=BY_VESSEL, read_with="vessel"),
        Input("elapsed", "s", 2, 3600, ("min",), when=BY_VESSEL, read_with="stopwatch"),
        Input("cold", "degC", 0.1, 60, ("degF",), read_with="thermometer"),
        Input("hot", "degC", 0.1, 99, ("degF",), read_with="thermometer"),
        Input("rated_flow", "litre/min", 0.1, 200, ("m**3/h",), optional=True, uncertainty=STATED),
        Input(
            "rated_rise",
            "delta_degC",
            1,
            80,
            default="water.specific_rate_rise",
            uncertainty=STATED,
        ),
        Input(
            "tolerance", "percent", 0, 20, default="water.rated_flow_tolerance", uncertainty=STATED
        ),
        Instrument("flow_cup", "water_flow", "litre/min", "flow_cup", 20, ("percent",)),
        Instrument("vessel", "water_volume", "litre", "marked_vessel", 20, ("percent",)),
        Instrument("stopwatch", "time", "s", "hand_stopwatch"),
        Instrument("thermometer", "temperature", "delta_degC", "contact_thermometer", 20),
    ),
    outputs=(
        Output("temperature_rise", "delta_degC", places=1),
        Output("water_flow", "litre/min", places=2),
        Output("heat_output", "kW", places=1),
        Output("heat_output_by_density", "kW", places=1),
        Output("flow_at_rated_rise", "litre/min", places=1),
    ),
    sources=(Cite("en_13203", "specific rate"), Cite("iapws", "IF97, region 1")),
    uses=("water.heat_capacity", *RISES, "water.rated_flow_tolerance", TABLE),
    judge=judge,
    verdicts=("rated_flow",),
    refusals=("not_hotter", "outside_table", "between_steps_of_watch"),
)
