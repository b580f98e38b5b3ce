"""Expansion vessel: how much vessel a sealed system needs, and the pressure to fill it to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine.curves import from_table
from calcs.engine.declarations import (
    STATED,
    WRITTEN,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
)
from calcs.engine.errors import Impossible
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.traced_functions import largest
from calcs.engine.units import Q, join_unit

TABLE = "water_properties"
# Makers round: 3.5 % to 90 °C, where water grows by 3.6. A fifth less is no rounding.
ROUNDED = 0.8
RESERVE = tuple(
    f"expansion_vessel.{name}"
    for name in ("reserve_share", "reserve_least", "small_vessel", "small_vessel_reserve")
)


def expansion_vessel(
    *,
    method: str,
    system_volume: Q,
    fill_temperature: Q,
    greatest_temperature: Q,
    expansion_share: Q | None = None,
    static_height: Q | None = None,
    pre_charge_gauge: Q,
    valve_pressure_gauge: Q,
    valve_margin: Q,
    ref: Any,
) -> dict[str, Q | None]:
    """Nominal volume of the vessel that takes up the expansion of the water.

    Args:
        method: "with_reserve" for EN 12828, "without_reserve" for the makers' short rule.
        system_volume: Water in the whole system. [litre]
        fill_temperature: Water as it was filled. [degC]
        greatest_temperature: The hottest it gets. [degC]
        expansion_share: Expansion to use in place of the water table's. [percent]
        static_height: Highest water above the vessel. [m]
        pre_charge_gauge: Gas in the empty vessel. [bar]
        valve_pressure_gauge: Setting of the safety valve. [bar]
        valve_margin: How far below the valve the hot system stays. [bar]
        ref: Uses the table `water_properties`, `reference_state.pressure`, `physics.gravity` and
            the figures `expansion_vessel.*` of the reserve.

    Returns:
        expansion: Share by which the water grows. [percent]
        expansion_volume: Water that the vessel must take. [litre]
        static_pressure: Pressure of the water above the vessel, gauge. [bar]
        acceptance: Share of the vessel that can fill with water. [percent]
        reserve_volume: Water kept in the cold vessel against losses. [litre]
        vessel_volume: Nominal volume that is needed. [litre]

    Raises:
        Impossible: The hot pressure is not above the pre-charge, or hot is not above cold.

    Not covered: water with antifreeze, which expands more, and two vessels on one system.

    >>> from calcs.engine.units import Quantity
    >>> need = expansion_vessel(
    ...     method="without_reserve",
    ...     system_volume=Quantity(100, "litre"),
    ...     fill_temperature=Quantity(10, "degC"),
    ...     greatest_temperature=Quantity(80, "degC"),
    ...     expansion_share=Quantity(4, "percent"),
    ...     pre_charge_gauge=Quantity(1, "bar"),
    ...     valve_pressure_gauge=Quantity(3, "bar"),
    ...     valve_margin=Quantity(0, "bar"),
    ...     ref={"reference_state.pressure": Quantity(1, "bar")},
    ... )
    >>> round(need["vessel_volume"].magnitude, 9)
    8.0
    """
    atmosphere = ref["reference_state.pressure"]
    final_absolute = valve_pressure_gauge - valve_margin + atmosphere
    initial_absolute = pre_charge_gauge + atmosphere
    if final_absolute <= initial_absolute:
        raise Impossible("pre_charge_gauge", "no_room_for_water")
    expansion = expansion_share
    if expansion is None:
        expansion = _expansion(ref, fill_temperature, greatest_temperature)
    acceptance = ((final_absolute - initial_absolute) / final_absolute).to("percent")
    expansion_volume = (system_volume * expansion).to("litre")
    static_pressure = None
    if static_height is not None:
        density = _density(ref, "fill_temperature", fill_temperature)
        static_pressure = (density * ref["physics.gravity"] * static_height).to("bar")
    reserve_volume, vessel_volume = None, (expansion_volume / acceptance).to("litre")
    if method == "with_reserve":
        reserve_volume, vessel_volume = _with_reserve(
            ref, system_volume, expansion_volume, acceptance
        )
    return {
        "expansion": expansion.to("percent"),
        "expansion_volume": expansion_volume,
        "acceptance": acceptance,
        "static_pressure": static_pressure,
        "reserve_volume": reserve_volume,
        "vessel_volume": vessel_volume,
    }


def _density(ref: Any, field: str, temperature: Q) -> Q:
    columns = ("temperature", "density")
    at = temperature.to("kelvin")
    return from_table(ref, TABLE, columns, field=field, at=at, unit="kg/m**3")


def _expansion(ref: Any, cold: Q, hot: Q) -> Q:
    if hot <= cold:
        raise Impossible("greatest_temperature", "not_hotter")
    light = _density(ref, "greatest_temperature", hot)
    expansion = (_density(ref, "fill_temperature", cold) / light - 1).to("percent")
    if expansion.magnitude <= 0:
        raise Impossible("greatest_temperature", "no_expansion")
    return expansion


def _with_reserve(ref: Any, system_volume: Q, expansion_volume: Q, acceptance: Q) -> tuple[Q, Q]:
    """Reserve and vessel by EN 12828. A small vessel keeps a share of itself in reserve."""
    ratio, least, small, small_share = (ref[name] for name in RESERVE)
    if acceptance > small_share:
        vessel = (expansion_volume / (acceptance - small_share)).to("litre")
        if vessel <= small:
            return (vessel * small_share).to("litre"), vessel
    reserve = largest((system_volume * ratio).to("litre"), least.to("litre"))
    return reserve, ((expansion_volume + reserve) / acceptance).to("litre")


def _check_share(given: Mapping[str, Any], ref: Any) -> None:
    """Refuse a typed expansion that plain water exceeds: what is mixed into it only adds.

    Raises:
        Impossible: It is less than a rounded figure for the two temperatures could be.
    """
    typed = given["expansion_share"]
    if typed is None:
        return
    water = _expansion(ref, given["fill_temperature"], given["greatest_temperature"])
    if si(typed) < ROUNDED * si(water):
        shown = join_unit(round_half_up(float(water.magnitude), 2), "percent")
        raise Impossible("expansion_share", "less_than_water", water=shown)


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """The vessel that is there, and its pre-charge against the height of the water."""
    findings: list[Finding] = []
    _check_share(given, ref)
    if given["vessel_fitted"] is not None:
        governs = ("expansion_vessel.reserve_share",)
        need = answers["vessel_volume"]
        findings.append(Compare("vessel", given["vessel_fitted"], low=need, figures=governs))
    margin = "expansion_vessel.margin_pressure"
    if given["pre_charge_gauge"].role != "input":  # a usual one was taken, and nobody read it
        findings.append(Ruling("pre_charge", "not_judged", "not_read"))
    elif "static_pressure" in answers:
        least = (answers["static_pressure"] + ref[margin]).to("bar")
        charge = given["pre_charge_gauge"]
        findings.append(Compare("pre_charge", charge, low=least, figures=(margin,), places=2))
    if given["static_height"] is None:
        findings.append(Note("height_unknown"))
    return findings


GOOD_TO = "system_volume_accuracy"
PRE_CHARGE, VALVE = "expansion_vessel.pre_charge", "expansion_vessel.safety_valve"

CALCULATOR = Calculator(
    formula=expansion_vessel,
    inputs=(
        Choice("method", ("with_reserve", "without_reserve"), default="with_reserve"),
        Input("system_volume", "litre", 1, 100000, ("m**3",), uncertainty=STATED, good_to=GOOD_TO),
        Input(GOOD_TO, "percent", 0, 50, optional=True, uncertainty=STATED),
        Input(
            "fill_temperature",
            "degC",
            0.1,
            60,
            default="expansion_vessel.fill_temperature",
            uncertainty=WRITTEN,
        ),
        Input(
            "greatest_temperature",
            "degC",
            1,
            119,
            default="expansion_vessel.hot_temperature",
            uncertainty=STATED,
        ),
        # Water that is warmed from 10 to 40 °C grows by 0.75 %: no heating does by less.
        Input("expansion_share", "percent", 0.5, 20, optional=True, uncertainty=STATED),
        Input("static_height", "m", 0, 60, ("ft",), optional=True, uncertainty=WRITTEN),
        Input("pre_charge_gauge", "bar", 0, 10, ("kPa",), default=PRE_CHARGE, read_with="gauge"),
        Input("valve_pressure_gauge", "bar", 0.5, 16, ("kPa",), default=VALVE, uncertainty=STATED),
        Input(
            "valve_margin",
            "bar",
            0,
            2,
            ("kPa",),
            default="expansion_vessel.valve_margin",
            uncertainty=STATED,
        ),
        Input("vessel_fitted", "litre", 0.5, 10000, optional=True, uncertainty=STATED),
        Instrument("gauge", "water_pressure", "bar", "system_gauge", 10, ("percent",)),
    ),
    outputs=(
        Output("expansion", "percent", places=2),
        Output("expansion_volume", "litre", places=1),
        Output("static_pressure", "bar", places=2),
        Output("acceptance", "percent", places=1),
        Output("reserve_volume", "litre", places=1),
        Output("vessel_volume", "litre", places=1),
    ),
    sources=(Cite("en_12828", "annex on the size of the vessel"), Cite("iapws", "IF97, region 1")),
    uses=("expansion_vessel.*", "reference_state.pressure", "physics.gravity", TABLE),
    judge=judge,
    verdicts=("vessel", "pre_charge"),
    # A vessel that was blown up too little is full of water before anything grows.
    rests_on={"vessel": ("pre_charge",)},
    rulings=("not_read",),
    notes=("height_unknown",),
    refusals=(
        "no_room_for_water",
        "not_hotter",
        "no_expansion",
        "less_than_water",
        "outside_table",
    ),
)
