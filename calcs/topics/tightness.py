"""Tightness test of a small installation: which edition counts, and what it permits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calcs.core import Compare, Finding, Note, Ruling
from calcs.errors import Impossible, Missing, NotInForce
from calcs.topics.pipe_catalogue import cell
from calcs.topics.starting_pressure import HAIR, in_mbar, set_to, within
from calcs.traced import si
from calcs.units import Q, join_unit, parse_quantity, round_half_up

BY_METER = "permissible_drop_by_meter"
BY_VOLUME = {
    "natural_gas": "permissible_drop_natural_gas",
    "lpg_air": "permissible_drop_lpg_air",
    "propane": "permissible_drop_lpg",
    "butane": "permissible_drop_lpg",
}


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
        raise NotInForce(
            "edition", reason="{this} cannot be Edition 4: it was not yet published on that day."
        )
    last = ref.reference.history("tightness.edition")[0].until
    raise NotInForce(
        "edition",
        reason=f"{{this}} cannot be Edition 3: it may be used for tests up to {last:%-d %B %Y}. "
        "Check {test_date}, or choose the edition in force.",
    )


def perceptible(
    given: Mapping[str, Any], edition: str, ref: Any
) -> tuple[Q | None, tuple[str, ...]]:
    """Greatest movement of the gauge that counts as none, and its record; None if not held."""
    if given["gauge"] == "own":
        return given["perceptible_movement"], ()
    name = f"tightness.perceptible.{given['gauge']}"
    if given["perceptible_movement"] is not None:
        ref.take(name, given["perceptible_movement"])
        return given["perceptible_movement"], (name,)
    if edition != ref.text("tightness.edition"):
        ref.go_ahead(name)  # a value of Edition 3 is none of Edition 4, used early
    return (ref[name] if ref.held(name) else None), (name,)


def permitted_drop(
    given: Mapping[str, Any], edition: str, volume: Q | None, ref: Any
) -> tuple[Q | None, tuple[str, ...]]:
    """Permitted drop of an existing installation with appliances, and the table it comes from."""
    gas = given["gas"]
    by_meter = edition == "3" and gas == "natural_gas"
    table = BY_METER if by_meter else BY_VOLUME[gas]
    if given["permitted_drop"] is not None:
        ref.take(table, given["permitted_drop"])
        return given["permitted_drop"], (table,)
    if edition != ref.text("tightness.edition"):
        ref.go_ahead(table)
    try:
        entry = ref.entry(table)
    except NotInForce:
        return None, ()
    if entry.value is not None:
        return parse_quantity(entry.value), (table,)
    rows = ref.rows(table)
    if by_meter:
        row = _by_meter(given, rows)
        ref.weaken(table, row["standing"])
        return parse_quantity(row["drop"]), (table,)
    return _by_volume(volume, rows), (table,)


def _by_meter(given: Mapping[str, Any], rows: Sequence[Mapping[str, str]]) -> Mapping[str, str]:
    meter, pipe = given["meter"], largest_pipe(given)
    if meter is None:
        raise Missing("meter", fix="Edition 3 permits a drop by meter and pipe size.")
    if pipe is None:
        raise Missing("largest_pipe", fix="Edition 3 permits a drop by meter and pipe size.")
    for row in rows:
        if row["meter"] == meter and pipe <= cell(row["pipe"]) + HAIR:
            return row
    field = "meter" if meter not in {row["meter"] for row in rows} else "largest_pipe"
    raise Impossible(
        field, "{this} is beyond the procedure for small installations. Use the industrial one."
    )


def largest_pipe(given: Mapping[str, Any]) -> float | None:
    """Nominal size of the largest pipe in m: typed, or from the pipes entered."""
    sizes = [si(row["size"]) for row in given["sections"] or ()]
    if given["largest_pipe"] is not None:
        sizes.append(si(given["largest_pipe"]))
    return max(sizes, default=None)


def _by_volume(volume: Q | None, rows: Sequence[Mapping[str, str]]) -> Q | None:
    if not rows:
        return None
    if volume is None:
        raise Missing("installation_volume", fix="The permitted drop goes by the volume.")
    for row in rows:
        if si(volume) <= cell(row["volume_to"]) + HAIR:
            return parse_quantity(row["drop"])
    raise Impossible("installation_volume", "{this} is beyond the table of permitted drops.")


def in_litres(volume: Q) -> str:
    """A volume as it is shown in a sentence."""
    return join_unit(round_half_up(si(volume), 5), "m**3")


def tightness_ruling(
    given: Mapping[str, Any], edition: str, fall: Q | None, volume: Q | None, ref: Any
) -> Finding:
    """The verdict: smell before any number, then no movement, then what is permitted."""
    if given["smell_of_gas"] == "yes":
        return Ruling("tightness", "does_not_meet", "smell")
    if fall is None:
        return Ruling("tightness", "not_judged", "let_by_first")
    none, records = perceptible(given, edition, ref)
    values = {"fall": in_mbar(abs(fall)), "none": "" if none is None else in_mbar(none)}
    if si(fall) < -HAIR and (none is None or si(abs(fall)) > si(none) + HAIR):
        return Ruling("tightness", "cannot_tell", "rose", records, values)
    if si(fall) <= HAIR:
        return Ruling("tightness", "meets", "no_movement", records, values)
    perceived = none is None or si(fall) > si(none) + HAIR
    if given["pipework"] == "new" or given["appliances"] == "not_connected":
        if not perceived:
            return Ruling("tightness", "meets", "no_perceptible_fall", records, values)
        if none is None:
            return Ruling("tightness", "not_judged", "perceptible_not_held", records, values)
        return Ruling("tightness", "does_not_meet", "perceptible_fall", records, values)
    drop, table = permitted_drop(given, edition, volume, ref)
    if drop is None and not perceived:
        return Ruling("tightness", "meets", "no_perceptible_fall", records, values)
    if drop is None:
        shown = "" if volume is None else in_litres(volume)
        reason = "drop_not_held" if shown else "drop_not_held_no_volume"
        return Ruling("tightness", "not_judged", reason, table, {**values, "volume": shown})
    return Compare("tightness", fall, None, drop, table, "mbar", 2)


def let_by_findings(given: Mapping[str, Any], edition: str, ref: Any) -> list[Finding]:
    """The let-by test: its pressure, and that nothing came past the closed control."""
    start, end = given["let_by_start"], given["let_by_end"]
    if start is None or end is None:
        return [Ruling("let_by", "not_judged", "let_by_missing")]
    bounds = ("tightness.let_by_low", "tightness.let_by_high")
    findings: list[Finding] = [set_to("let_by_pressure", start, bounds, ref)]
    rise = end - start
    none, records = perceptible(given, edition, ref)
    values = {"rise": in_mbar(abs(rise)), "none": "" if none is None else in_mbar(none)}
    limit = HAIR if none is None else si(none) + HAIR
    if si(rise) <= limit and not within(si(start), bounds, ref):
        findings.append(Ruling("let_by", "not_judged", "let_by_wrong_pressure", bounds))
    elif si(rise) <= limit:
        findings.append(Ruling("let_by", "meets", "no_rise", records, values))
    elif none is None:
        findings.append(Ruling("let_by", "not_judged", "let_by_not_held", records, values))
    else:
        findings.append(Ruling("let_by", "does_not_meet", "let_by_rise", records, values))
    if si(rise) < -limit:
        findings.append(Note("let_by_fall", values))
    return findings
