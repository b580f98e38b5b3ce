"""What a gauge can tell of a movement: too coarse to see it, or more than any takes for none."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calcs.domain.tightness.starting_pressure import ROUNDING_TOLERANCE, in_mbar
from calcs.engine.errors import Impossible
from calcs.engine.findings import Ruling
from calcs.engine.last_digit import last_place
from calcs.engine.reference import HOST_COPY
from calcs.engine.rounding import short_number
from calcs.engine.traced import si
from calcs.engine.uncertainty import difference_of_readings, expanded
from calcs.engine.units import Q, join_unit, parse_quantity

PERCEPTIBLE = "tightness.perceptible."
# No edition held gives any gauge more than a quarter of a millibar. What is more than twice the
# largest figure held is no slip of another edition: it is a movement on every gauge.
GENEROUS = 2.0
OF_HOSTS = (HOST_COPY, "invented")  # provenance: what a host copied loosens nothing held here
_ON_THE_STEP = 1e-6  # of a step: the last digits of a conversion


def movement_of(change: Q, given: tuple[Q | None, Q | None, Q | None]) -> Q:
    """A difference of two readings with the uncertainty of the gauge that took both.

    Args:
        change: The difference.
        given: The gauge's step, its accuracy, and the movement that can be seen where data
            has one of its own.
    """
    resolution, accuracy, movement = given
    if movement is not None:
        return difference_of_readings(change, movement, None, "gauge")
    return difference_of_readings(change, resolution, accuracy, "gauge")


def figures_held(ref: Any, gauge: str = "") -> Iterator[Q]:
    """What any edition held here takes for no movement, on one gauge or on all of them."""
    for name in sorted(ref.reference.names):
        if name.startswith(PERCEPTIBLE) and name.endswith(gauge):
            for dated_value in ref.reference.history(name):
                if dated_value.value is not None and dated_value.provenance not in OF_HOSTS:
                    yield parse_quantity(dated_value.value)


def largest_held(ref: Any) -> Q:
    """The largest movement that any edition held here takes for none, on any gauge."""
    return max(figures_held(ref), key=si)


def is_movement_on_any(none: Q, ref: Any) -> bool:
    """Whether a figure takes more for none than any edition held here does on any gauge."""
    return bool(si(none) > si(largest_held(ref)) + ROUNDING_TOLERANCE)


def must_be_seen(none: Q | None, gauge: str, ref: Any) -> Q:
    """Movement that the gauge has to be able to tell.

    That is what counts as none. Where that is not known it is what another edition had for the same
    gauge, and for a gauge of the reader's own the least of any.
    """
    if none is not None:
        return none
    return min(figures_held(ref, gauge) if gauge != "own" else figures_held(ref), key=si)


def too_coarse(movement: Q, least: Q) -> bool:
    """Whether the gauge's uncertainty is wider than the movement that counts.

    A movement that is clear of both is told all the same.
    """
    return bool(si(expanded(movement)) > si(least) + ROUNDING_TOLERANCE) and not beyond(
        movement, si(least)
    )


def coarse_ruling(name: str, movement: Q, least: Q, figures: tuple[str, ...] = ()) -> Ruling:
    """The verdict where the gauge can't tell."""
    values = {"uncertainty": in_mbar(expanded(movement)), "least": in_mbar(least)}
    return Ruling(name, "cannot_tell", f"{name}_too_coarse", figures, values)


def beyond_any(movement: Q, ref: Any) -> bool:
    """Whether it moved more than any gauge and any edition could take for none."""
    return beyond(movement, GENEROUS * si(largest_held(ref)))


def beyond(movement: Q, bound: float) -> bool:
    """Whether a movement is clear of a bound in SI units by the gauge's uncertainty, up or down."""
    return bool(abs(si(movement)) > bound + si(expanded(movement)) + ROUNDING_TOLERANCE)


def check_steps(given: Mapping[str, Any], fields: tuple[str, ...]) -> None:
    """Refuse readings that the gauge chosen can't show: it has nothing between its steps.

    Raises:
        Impossible: A reading is finer than that.
    """
    step = given.get("gauge_movement") or given["gauge_resolution"]
    for field in fields:
        if given[field] is not None:
            check_step(field, given[field], step)


def check_step(field: str, reading: Q, step: Q) -> None:
    """Refuse a reading that has digits below the step of its gauge.

    In another unit than the step's a reading may fall between two steps, if it has no more digits
    than they have.

    Raises:
        Impossible: It is finer than the step.
    """
    steps = si(reading) / si(step)
    if abs(steps - round(steps)) <= _ON_THE_STEP * max(1.0, abs(steps)):
        return
    number = short_number(float(reading.magnitude), 12)
    in_its_unit = last_place(number) * abs(si(1 * reading.units))
    if str(reading.units) != str(step.units) and in_its_unit >= si(step) * (1 - _ON_THE_STEP):
        return
    smallest = join_unit(short_number(float(step.magnitude)), step.units)
    typed = join_unit(number, reading.units)
    raise Impossible(field, "between_steps_of_gauge", typed=typed, step=smallest)
