"""Tightness test of a small installation: which edition counts, and what the gauge's fall means."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.tightness.movement import (
    PERCEPTIBLE,
    beyond,
    beyond_any,
    coarse_ruling,
    is_movement_on_any,
    largest_held,
    must_be_seen,
    too_coarse,
)
from calcs.domain.tightness.permitted_drop import largest_drop, permitted_drop
from calcs.domain.tightness.starting_pressure import ROUNDING_TOLERANCE, in_mbar
from calcs.engine.errors import Impossible, NotInForce
from calcs.engine.findings import Compare, Finding, Ruling
from calcs.engine.rounding import round_half_up
from calcs.engine.traced import si
from calcs.engine.units import Q, join_unit
from calcs.engine.written_day import written_day

EDITION_REFUSALS = ("edition_4_too_early", "edition_3_ended")


def edition_of(chosen: str, ref: Any) -> str:
    """Edition that the test is judged by: "3" or "4".

    Raises:
        NotInForce: The edition chosen may not be used on that day.
    """
    current: str = ref.text("tightness.edition")
    wanted = {"edition_3": "3", "edition_4": "4"}.get(chosen, current)
    if wanted == current:
        return wanted
    if wanted == "4":
        if ref.held("tightness.edition_early"):
            return wanted
        raise NotInForce("edition", "edition_4_too_early")
    last = ref.reference.history("tightness.edition")[0].until
    raise NotInForce("edition", "edition_3_ended", last=written_day(last))


def perceptible(
    given: Mapping[str, Any], edition: str, ref: Any
) -> tuple[Q | None, tuple[str, ...]]:
    """Greatest movement of the gauge that counts as none, and its figure; None if not held.

    Raises:
        Impossible: The reader's own figure takes more for none than any edition held here, or than
            the edition that counts does for that gauge.
    """
    if given["perceptible_movement"] is not None:
        _check_typed(given["perceptible_movement"], given["gauge"], edition, ref)
    none, figures = _perceptible(given, edition, ref)
    if none is not None and is_movement_on_any(none, ref):
        _refuse_as_movement(figures[0], none, ref)
    return none, figures


def _check_typed(typed: Q, gauge: str, edition: str, ref: Any) -> None:
    name = f"{PERCEPTIBLE}{gauge}"
    if gauge != "own" and edition == ref.text("tightness.edition") and ref.held(name):
        if si(typed) > si(ref[name]) + ROUNDING_TOLERANCE:
            said, most, field = in_mbar(typed), in_mbar(ref[name]), "perceptible_movement"
            raise Impossible(field, "more_than_this_gauge", typed=said, most=most)
    elif is_movement_on_any(typed, ref):
        _refuse_as_movement("perceptible_movement", typed, ref)


def _refuse_as_movement(field: str, none: Q, ref: Any) -> None:
    typed, most = in_mbar(none), in_mbar(largest_held(ref))
    raise Impossible(field, "movement_on_any_gauge", typed=typed, most=most)


def _perceptible(
    given: Mapping[str, Any], edition: str, ref: Any
) -> tuple[Q | None, tuple[str, ...]]:
    if given["gauge"] == "own":
        return given["perceptible_movement"], ()
    name = f"{PERCEPTIBLE}{given['gauge']}"
    if given["perceptible_movement"] is not None:
        ref.override(name, given["perceptible_movement"])
        return given["perceptible_movement"], (name,)
    if edition != ref.text("tightness.edition"):
        ref.use_newest(name)  # a value of Edition 3 is none of Edition 4, used early
    return (ref[name] if ref.held(name) else None), (name,)


def in_litres(volume: Q) -> str:
    """A volume as it is shown in a sentence."""
    return join_unit(round_half_up(si(volume), 5), "m**3")


def may_not_move(given: Mapping[str, Any]) -> bool:
    """New pipework, and pipework without appliances: no perceptible fall is permitted."""
    return bool(given["pipework"] == "new" or given["appliances"] == "not_connected")


def tightness_ruling(
    given: Mapping[str, Any], edition: str, fall: Q | None, volume: Q | None, ref: Any
) -> Finding:
    """The verdict: what fails by any table comes before the table."""
    if fall is None:
        return Ruling("tightness", "not_judged", "let_by_first")
    none, figures = perceptible(given, edition, ref)
    values = {
        "fall": in_mbar(abs(fall)),
        "none": "" if none is None else in_mbar(none),
        "edition": edition,
    }
    gross = _gross(given, fall, values, ref)
    if gross is not None:
        return gross
    if si(fall) < -ROUNDING_TOLERANCE and (
        none is None or si(abs(fall)) > si(none) + ROUNDING_TOLERANCE
    ):
        return Ruling("tightness", "cannot_tell", "rose", figures, values)
    least = must_be_seen(none, given["gauge"], ref)
    perceived = none is None or si(fall) > si(none) + ROUNDING_TOLERANCE
    if si(fall) > ROUNDING_TOLERANCE and not may_not_move(given):
        drop, figures = permitted_drop(given, edition, volume, ref)
        if drop is not None:
            return _by_drop(fall, drop, figures, ref)
        if perceived:
            shown = "" if volume is None else in_litres(volume)
            reason = "drop_not_held" if shown else "drop_not_held_no_volume"
            return Ruling("tightness", "not_judged", reason, figures, {**values, "volume": shown})
    if too_coarse(fall, least):
        return coarse_ruling("tightness", fall, least, figures)
    return _by_perception(fall, none, perceived=perceived, figures=figures, values=values)


def _gross(given: Mapping[str, Any], fall: Q, values: Mapping[str, str], ref: Any) -> Ruling | None:
    """What fails whatever the table says."""
    far = beyond_any(fall, ref)
    if far and si(fall) < 0:
        return Ruling("tightness", "does_not_meet", "rose_far", (), values)
    if far and may_not_move(given):
        return Ruling("tightness", "does_not_meet", "fell_far", (), values)
    largest = largest_drop(ref)
    if si(fall) > 0 and beyond(fall, si(largest)):
        values = {**values, "largest": in_mbar(largest)}
        return Ruling("tightness", "does_not_meet", "beyond_any_drop", (), values)
    return None


def _by_perception(
    fall: Q,
    none: Q | None,
    *,
    perceived: bool,
    figures: tuple[str, ...],
    values: Mapping[str, str],
) -> Ruling:
    """Where no movement is permitted, or there was none."""
    if si(fall) <= ROUNDING_TOLERANCE:
        return Ruling("tightness", "meets", "no_movement", figures, values)
    if not perceived:
        return Ruling("tightness", "meets", "no_perceptible_fall", figures, values)
    if none is None:
        return Ruling("tightness", "not_judged", "perceptible_not_held", figures, values)
    return Ruling("tightness", "does_not_meet", "perceptible_fall", figures, values)


def _by_drop(fall: Q, drop: Q, table: tuple[str, ...], ref: Any) -> Finding:
    """Existing pipework with appliances, which fell: the permitted drop decides."""
    if too_coarse(fall, drop):
        return coarse_ruling("tightness", fall, drop, table)
    # No figure that is typed permits more than any edition held here ever did.
    high = min(drop, largest_drop(ref), key=si)
    return Compare("tightness", fall, None, high, table, "mbar", 2)
