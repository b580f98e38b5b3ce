"""Pressures of one supply that can't all be true: standing and working, at meter and inlet."""

from __future__ import annotations

from collections.abc import Mapping

from calcs.engine.errors import Impossible, InputName
from calcs.engine.traced import si
from calcs.engine.uncertainty import expanded
from calcs.engine.units import Q

STANDING_APART = "working_pressure.standing_apart"  # by height alone, where that is not known


def refuse_a_gain(pressure_loss: Q, friction_loss: Q | None) -> None:
    """Refuse an inlet above its meter: gas loses pressure on the way.

    Args:
        pressure_loss: Meter less inlet, both under load. [mbar]
        friction_loss: The same with the height allowed for, None where it is not known. [mbar]

    Raises:
        Impossible: The inlet is higher by more than the gauge explains.
    """
    loss = pressure_loss if friction_loss is None else friction_loss
    if loss.magnitude < 0 and -loss > expanded(loss):
        # Read below the meter, and still too high for gas that loses weight's worth on the way.
        by_height = pressure_loss.magnitude >= 0
        raise Impossible("inlet_working", "gains_with_height" if by_height else "gains_on_the_way")


def refuse_a_rise(field: str, working: Q | None, standing_field: str, stood: Q | None) -> None:
    """Refuse a pressure that a supply has under load and had not while nothing burned.

    Raises:
        Impossible: The working pressure is higher by more than the gauge explains.
    """
    if working is None or stood is None:
        return
    rise = working - stood
    if rise.magnitude > 0 and rise > expanded(rise):
        raise Impossible(field, "rises_under_load", standing=InputName(standing_field))


def refuse_across(
    field: str,
    working: Q | None,
    standing_field: str,
    stood: Q | None,
    *,
    height_gain: Q | None,
    ref: Mapping[str, Q],
) -> None:
    """The same for what stood at the other end, higher or lower by what gas weighs on the way.

    Args:
        field: Name of the working pressure.
        working: The working pressure. [mbar]
        standing_field: Name of the standing one.
        stood: The standing one at the other end. [mbar]
        height_gain: What the gas gains on the way up; None where the height is not known. [mbar]
        ref: Uses `working_pressure.standing_apart`.

    Raises:
        Impossible: The working pressure is higher by more than gauge and height explain.
    """
    if stood is not None:
        by_height = ref[STANDING_APART] if height_gain is None else abs(height_gain)
        refuse_a_rise(field, working, standing_field, stood + by_height)


def refuse_apart(
    stood: tuple[Q | None, Q | None], height_gain: Q | None, gas: str, ref: Mapping[str, Q]
) -> None:
    """Refuse standing pressures that no gauge and no height explains.

    A regulator that lets by, at either end, is a finding and no contradiction.

    Args:
        stood: At the meter and at the inlet. [mbar]
        height_gain: What the gas gains on the way up; None where the height is not known. [mbar]
        gas: Where its closing pressure is held, more than that is told elsewhere.
        ref: Uses `working_pressure.standing_apart` and `working_pressure.lock_up_high`.

    Raises:
        Impossible: They differ by more than that.
    """
    meter, inlet = stood
    if meter is None or inlet is None:
        return
    apart = inlet - meter if height_gain is None else inlet - meter - height_gain
    unknown_height = 0.0 if height_gain is not None else si(ref[STANDING_APART])
    highest = si(max(meter, inlet, key=si))
    if gas == "natural_gas" and highest > si(ref["working_pressure.lock_up_high"]):
        return
    if abs(si(apart)) > si(expanded(apart)) + unknown_height:
        raise Impossible("inlet_standing", "standing_apart")
