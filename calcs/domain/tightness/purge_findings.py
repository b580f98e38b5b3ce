"""What is said of a purge: whether enough gas passed, and what the rule leaves unsaid."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.domain.gas.meter_index import check_unit_of_index, reading_after
from calcs.domain.pipes.installation import SMALL_METERS, meter_volume
from calcs.domain.tightness.tightness import edition_of, in_litres
from calcs.engine.findings import Compare, Finding, Note, Ruling
from calcs.engine.rounding import round_half_up, short_number
from calcs.engine.traced import si
from calcs.engine.units import Q, at_most, join_unit

FIXED, FACTOR, IGNITE = "purge.fixed_volume", "purge.volume_factor", "purge.ignite_above"
VOLUME, BORE = "tightness.scope_volume", "tightness.scope_bore"
INDEX_PLACES = 3  # litres
SLIP = 100  # times what is needed: a decimal point two places out


def purge_findings(
    *, given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any
) -> list[Finding]:
    """Whether enough gas passed, and when to light it at the purge point.

    Raises:
        Impossible: The readings are in another unit than the index counts in.
    """
    check_unit_of_index(given, ("first_reading", "second_reading"), "index")
    findings: list[Finding] = []
    if "gas_passed" in answers:
        findings.append(_purged(given, answers, ref))
    volume = given["installation_volume"]
    if given["procedure"] == "small":
        findings += _scope(given, ref)
    if given["procedure"] == "small" and volume is not None:
        findings += _ignite(volume, edition_of(given["edition"], ref), ref)
    return findings + _less_than_volume(given, answers, ref)


def _purged(given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any) -> Finding:
    """Gas passed against the gas to purge, where that counts and nothing looks like a slip."""
    figures = _figures(given, ref)
    passed, needed = answers["gas_passed"], answers["purge_volume"]
    own = _own_volume(given, ref)
    # Less than the pipework holds is too little, whatever procedure covers it.
    is_short = own is not None and si(passed) < si(own)
    if given["procedure"] == "small" and _is_beyond(given, ref) and not is_short:
        return Ruling("purged", "not_judged", "beyond_small", (VOLUME, BORE))
    if si(passed) > SLIP * si(needed):
        return Ruling("purged", "not_judged", "too_much", figures, {"passed": in_litres(passed)})
    least = needed if own is None or si(own) <= si(needed) else own
    if own is None and si(passed) >= si(needed):
        return Ruling("purged", "not_judged", "volume_not_typed", figures)
    if _meter_is_untold(given) and si(passed) >= si(least):
        return Ruling("purged", "not_judged", "meter_not_chosen", figures)
    return Compare("purged", passed, least, None, figures if least is needed else (), "m**3", 3)


def _own_volume(given: Mapping[str, Any], ref: Any) -> Q | None:
    """What the section itself holds: with less than that passed, air is left in it.

    The industrial rule is typed the pipes alone. The meter in the section holds air too.
    """
    if given["procedure"] == "small":
        whole: Q | None = given["installation_volume"]
        return whole
    pipes: Q | None = given["pipe_volume"]
    meter = None if given["meter"] is None else meter_volume([given["meter"]], ref)
    return pipes if pipes is None or meter is None else pipes + meter


def _meter_is_untold(given: Mapping[str, Any]) -> bool:
    """Whether a meter may be in the section that nobody told of."""
    return bool(given["procedure"] == "industrial" and given["meter"] is None)


def _less_than_volume(
    given: Mapping[str, Any], answers: Mapping[str, Q], ref: Any
) -> list[Finding]:
    """That the rule asks for less than the pipework holds, and where to stop instead."""
    own, needed = _own_volume(given, ref), answers["purge_volume"]
    if own is None or si(own) <= si(needed):
        return []
    values = {"purge": in_litres(needed), "volume": in_litres(own)}
    notes: list[Finding] = [Note("less_than_volume", values)]
    first = given["first_reading"]
    if first is not None:
        stop = reading_after(first, own, ref).to(first.units)
        notes.append(Note("stop_later", {"reading": _as_on_index(stop)}))
    return notes


def _as_on_index(reading: Q) -> str:
    """A reading with every figure that counts, and no fewer than its index shows."""
    value = float(reading.magnitude)
    _, _, decimals = short_number(value, 9).partition(".")
    return join_unit(round_half_up(value, max(INDEX_PLACES, len(decimals))), reading.units)


def _is_beyond(given: Mapping[str, Any], ref: Any) -> bool:
    volume, pipe = given["installation_volume"], given["largest_pipe"]
    return bool(
        (volume is not None and not at_most(volume, ref[VOLUME]))
        or (pipe is not None and not at_most(pipe, ref[BORE]))
        or given["meter"] not in (None, *SMALL_METERS)
    )


def _scope(given: Mapping[str, Any], ref: Any) -> list[Finding]:
    """Volume and pipe against what the small procedure covers."""
    findings: list[Finding] = []
    volume, pipe = given["installation_volume"], given["largest_pipe"]
    if volume is not None:
        findings.append(Compare("scope", volume, None, ref[VOLUME], (VOLUME,), "m**3", 5))
    if pipe is not None:
        findings.append(Compare("bore", pipe, None, ref[BORE], (BORE,), "mm", 0))
    return findings


def _figures(given: Mapping[str, Any], ref: Any) -> tuple[str, ...]:
    if given["own_purge_volume"] is not None:
        ref.override(FIXED, given["own_purge_volume"])
        return (FIXED,)
    if given["procedure"] == "industrial":
        return ("purge.industrial_pipe_factor", "purge.industrial_meter_factor")
    return (FIXED,) if FACTOR not in ref.used else (FACTOR,)


def _ignite(volume: Q, edition: str, ref: Any) -> list[Finding]:
    if edition != "3" or not ref.held(IGNITE):
        return [Note("ignite_not_held", {"volume": in_litres(volume)})]
    limit = ref[IGNITE]
    if si(volume) <= si(limit):
        return []
    return [Note("ignite", {"volume": in_litres(volume), "limit": in_litres(limit)})]
