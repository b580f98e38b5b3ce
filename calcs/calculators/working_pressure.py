"""Working pressure: meter and inlet, standing and working, and which part of the path is short."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.gas.supply import check_least, lock_up, shown
from calcs.domain.gas.supply_readings import (
    refuse_a_gain,
    refuse_a_rise,
    refuse_across,
    refuse_apart,
)
from calcs.domain.plausibility.kpa_for_mbar import kilopascal_note
from calcs.engine.declarations import (
    STATED,
    WRITTEN,
    Calculator,
    Choice,
    Cite,
    Input,
    Instrument,
    Output,
    When,
)
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q, at_most

# Where the appliance's end was read: only at the first has the gas passed the pipework alone.
PIPE_END, GAS_VALVE, ELSEWHERE = "pipe_end", "gas_valve", "elsewhere"
GASES = ("natural_gas", "propane", "butane")


def working_pressure(
    *,
    gas: str,
    meter_standing: Q | None = None,
    meter_working: Q | None = None,
    meter_mean: Q | None = None,
    inlet_standing: Q | None = None,
    inlet_working: Q,
    height_rise: Q | None = None,
    ref: Mapping[str, Q],
) -> dict[str, Q | None]:
    """Pressure lost on the way from the meter to the appliance at full load.

    Args:
        gas: "natural_gas", "propane" or "butane".
        meter_standing: At the meter or the regulator outlet, nothing burning. [mbar]
        meter_working: The same, everything at full load. [mbar]
        meter_mean: The mean of that over some minutes. [mbar]
        inlet_standing: At the appliance inlet, nothing burning. [mbar]
        inlet_working: At the appliance inlet, everything at full load. [mbar]
        height_rise: How far the inlet is above the meter; below counts negative. [m]
        ref: Uses `gas.<gas>.relative_density`, `air.density`, `physics.gravity` and, with both
            standing pressures, `working_pressure.*`.

    Returns:
        pressure_loss: Meter less inlet, both working. All pressures are gauge. [mbar]
        regulator_droop: Standing less working at the meter. [mbar]
        height_gain: Pressure that the gas gains because it weighs other than air. [mbar]
        friction_loss: Loss in pipe and fittings, the height allowed for. [mbar]

    Raises:
        Impossible: A working pressure is above what feeds it or above a standing one by more than
            the gauge explains, or the two standing ones differ by more than gauge and height do.

    Not covered: what size the pipe should be, and medium-pressure pipes.

    >>> from calcs.engine.units import Quantity
    >>> loss = working_pressure(
    ...     gas="natural_gas",
    ...     meter_working=Quantity(20.5, "mbar"),
    ...     inlet_working=Quantity(19.75, "mbar"),
    ...     ref={},
    ... )
    >>> loss["pressure_loss"].magnitude
    0.75
    """
    height_gain = None
    if height_rise is not None:
        lighter = (1 - ref[f"gas.{gas}.relative_density"]) * ref["air.density"]
        height_gain = (lighter * ref["physics.gravity"] * height_rise).to("mbar")
    refuse_a_rise("inlet_working", inlet_working, "inlet_standing", inlet_standing)
    refuse_apart((meter_standing, inlet_standing), height_gain, gas, ref)
    refuse_a_rise("meter_working", meter_working, "meter_standing", meter_standing)
    refuse_a_rise("meter_mean", meter_mean, "meter_standing", meter_standing)
    across: Mapping[str, Any] = {"height_gain": height_gain, "ref": ref}
    refuse_across("inlet_working", inlet_working, "meter_standing", meter_standing, **across)
    refuse_across("meter_working", meter_working, "inlet_standing", inlet_standing, **across)
    if meter_working is None:
        return {}
    pressure_loss = meter_working - inlet_working
    friction_loss = None if height_gain is None else pressure_loss + height_gain
    regulator_droop = None if meter_standing is None else meter_standing - meter_working
    refuse_a_gain(pressure_loss, friction_loss)
    return {
        "pressure_loss": pressure_loss.to("mbar"),
        "regulator_droop": regulator_droop,
        "height_gain": height_gain,
        "friction_loss": friction_loss,
    }


def judge(*, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> list[Finding]:
    """The inlet, the supply and the pipework, each against its limit, and which one is short."""
    gas = given["gas"]
    nominal, either_side = (
        f"working_pressure.supply_{part}.{gas}" for part in ("nominal", "tolerance")
    )
    low, high = ref[nominal] - ref[either_side], ref[nominal] + ref[either_side]
    check_least(given["least_inlet"], ref[nominal])
    loss_limit = "working_pressure.pipe_loss." + gas
    if gas != "natural_gas" and given["installation_code"] == "lpg_code":
        loss_limit = "working_pressure.pipe_loss_lpg_code"
    loss = answers.get("pressure_loss")
    # What the maker asks for decides for the appliance; the rule for the pipework comes after it.
    findings: list[Finding] = [_too_high(given, high, ref) or _inlet(given, low - ref[loss_limit])]
    if loss is not None:
        findings += [
            Compare("meter_working", given["meter_working"], low, high, (either_side, nominal)),
            _loss(given, loss, ref[loss_limit], loss_limit),
        ]
    # With nothing flowing the inlet stands at what the regulator closed at. Where the two differ
    # it is judged by the higher.
    both = (given["meter_standing"], given["inlet_standing"])
    stood = [one for one in both if one is not None]
    if gas == "natural_gas" and stood:
        findings.append(lock_up(max(stood, key=si), low, ref))
    if gas == "natural_gas" and given["meter_mean"] is not None:
        bounds = tuple(f"working_pressure.six_minute_{end}" for end in ("low", "high"))
        mean_low, mean_high = (ref[name] for name in bounds)
        findings.append(Compare("meter_mean", given["meter_mean"], mean_low, mean_high, bounds))
    if loss is None:
        findings.append(Ruling("path", "not_judged", "meter_unread"))
    else:
        findings.append(_short_part(given, low, loss, ref[loss_limit], (either_side, loss_limit)))
    if _standing_differ(given):
        findings.append(Note("standing_differ"))
    return [*findings, *kilopascal_note((given[name] for name in READINGS), ref[nominal])]


def _too_high(given: Mapping[str, Any], high: Q, ref: Any) -> Finding | None:
    """More at the inlet than may arrive there; None where it is no more than that.

    A regulator that closes may stand above what it works at. What is above its closing too comes
    past it. For gases whose closing pressure is not held, the supply's highest is the bound.
    """
    reading, is_natural = given["inlet_working"], given["gas"] == "natural_gas"
    if at_most(reading, high):
        return None
    closes = "working_pressure.lock_up_high"
    values = {"reading": shown(reading, 1), "high": shown(high, 1)}
    if is_natural and at_most(reading, ref[closes]):
        return Ruling("inlet_working", "cannot_tell", "inlet_above_working", (closes,), values)
    bound = closes if is_natural else f"working_pressure.supply_tolerance.{given['gas']}"
    return Ruling("inlet_working", "does_not_meet", "inlet_above_supply", (bound,), values)


def _inlet(given: Mapping[str, Any], usual: Q) -> Finding:
    """The inlet against what its maker asks for; `usual` is what the lowest supply should leave."""
    least, reading = given["least_inlet"], given["inlet_working"]
    figures = ("working_pressure.appliance_inlet",)
    if least is not None:
        return Compare("inlet_working", reading, least, None, figures)
    if at_most(usual, reading):
        return Ruling("inlet_working", "not_judged", "least_inlet_unknown", figures)
    values = {"usual": shown(usual, 1)}
    return Ruling("inlet_working", "not_judged", "least_inlet_unknown_and_low", figures, values)


def _loss(given: Mapping[str, Any], loss: Q, limit: Q, figure: str) -> Finding:
    """The loss against the rule for the pipework, which ends where the appliance's valve begins.

    A loss within the rule keeps it, whatever else the gas went through. One above it says nothing
    of the pipework while a valve, a hose or a filter has its own share of it.
    """
    if _is_pipework_alone(given) or at_most(loss, limit):
        return Compare("pressure_loss", loss, None, limit, (figure,), places=2)
    values = {"loss": shown(loss, 2), "limit": shown(limit, 2)}
    reason = f"more_between_{given['inlet_read_at']}"
    return Ruling("pressure_loss", "cannot_tell", reason, (figure,), values)


def _is_pipework_alone(given: Mapping[str, Any]) -> bool:
    return bool(given["inlet_read_at"] == PIPE_END)


def _short_part(
    given: Mapping[str, Any], low: Q, loss: Q, limit: Q, figures: tuple[str, ...]
) -> Ruling:
    supply, pipe = (_short(margin) for margin in (given["meter_working"] - low, limit - loss))
    if not (_is_pipework_alone(given) or at_most(loss, limit)):
        reason = "supply_short_way_not_divided" if supply else "way_not_divided"
        return Ruling("path", "does_not_meet" if supply else "cannot_tell", reason, figures)
    reason = SHORT.get((supply, pipe), "too_close")
    if reason == "too_close":
        return Ruling("path", "cannot_tell", reason, figures)
    outcome = "meets" if reason == "nothing_short" else "does_not_meet"
    return Ruling("path", outcome, reason, figures)


# Supply and pipework: short, not short, or too close for the gauge to say.
SHORT = {
    (False, False): "nothing_short",
    (True, False): "supply_short",
    (False, True): "pipework_short",
    (True, True): "both_short",
    (True, None): "supply_short_at_least",
    (None, True): "pipework_short_at_least",
}


def _short(margin: Q) -> bool | None:
    return None if abs(margin) < expanded(margin) else bool(margin.magnitude < 0)


def _standing_differ(given: Mapping[str, Any]) -> bool:
    """With no flow there is no loss: both ends must read the same."""
    if given["meter_standing"] is None or given["inlet_standing"] is None:
        return False
    apart = given["meter_standing"] - given["inlet_standing"]
    return bool(abs(apart) > expanded(apart))


def _pressure(name: str, *, optional: bool) -> Input:
    return Input(name, "mbar", 0, 200, ("kPa", "inWG"), optional=optional, read_with="gauge")


READINGS = ("meter_standing", "meter_working", "meter_mean", "inlet_standing", "inlet_working")

CALCULATOR = Calculator(
    formula=working_pressure,
    inputs=(
        Choice("gas", GASES, default="natural_gas"),
        Choice(
            "installation_code",
            ("bs_6891", "lpg_code"),
            default="bs_6891",
            when=When("gas", ("propane", "butane")),
        ),
        *(_pressure(name, optional=name != "inlet_working") for name in READINGS),
        Choice("inlet_read_at", (GAS_VALVE, PIPE_END, ELSEWHERE), default=GAS_VALVE),
        Input("least_inlet", "mbar", 0, 200, ("kPa", "inWG"), optional=True, uncertainty=STATED),
        Input("height_rise", "m", -100, 300, ("ft",), optional=True, uncertainty=WRITTEN),
        Instrument("gauge", "pressure", "mbar", "digital_gauge_1dp", also=("percent",)),
    ),
    outputs=(
        Output("pressure_loss", "mbar", places=2),
        Output("regulator_droop", "mbar", places=2),
        Output("height_gain", "mbar", places=2),
        Output("friction_loss", "mbar", places=2),
    ),
    sources=(
        Cite("bs_6891_2015", "design pressure loss"),
        Cite("bs_6400_1", "meter regulator setting"),
    ),
    uses=(
        "working_pressure.*",
        "working_pressure.pipe_loss.*",
        "working_pressure.supply_nominal.*",
        "working_pressure.supply_tolerance.*",
        "gas.*.relative_density",
        "air.density",
        "physics.gravity",
    ),
    judge=judge,
    verdicts=("inlet_working", "meter_working", "pressure_loss", "lock_up", "meter_mean", "path"),
    notes=("standing_differ", "kilopascal"),
    rulings=(
        "supply_too_low",
        "inlet_above_working",
        "inlet_above_supply",
        "least_inlet_unknown",
        "meter_unread",
        "more_between_gas_valve",
        "more_between_elsewhere",
        "way_not_divided",
        "supply_short_way_not_divided",
        "least_inlet_unknown_and_low",
        "nothing_short",
        "supply_short",
        "pipework_short",
        "both_short",
        "supply_short_at_least",
        "pipework_short_at_least",
        "too_close",
    ),
    refusals=(
        "gains_on_the_way",
        "gains_with_height",
        "rises_under_load",
        "standing_apart",
        "below_half_of_supply",
    ),
)
