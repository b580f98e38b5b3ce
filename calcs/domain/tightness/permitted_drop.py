"""The drop that existing pipework with appliances is permitted, and the largest ever permitted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from calcs.domain.pipes.pipe_catalogue import cell
from calcs.domain.tightness.movement import OF_HOSTS
from calcs.domain.tightness.starting_pressure import ROUNDING_TOLERANCE, in_mbar
from calcs.engine.errors import Impossible, Missing, NotInForce
from calcs.engine.in_force import InForce
from calcs.engine.traced import si
from calcs.engine.units import Q, Quantity, parse_quantity

BY_METER = "permissible_drop_by_meter"
BY_VOLUME = {
    "natural_gas": "permissible_drop_natural_gas",
    "lpg_air": "permissible_drop_lpg_air",
    "propane": "permissible_drop_lpg",
    "butane": "permissible_drop_lpg",
}
# Checks on typing, not limits. The largest drop held is eight twentieths of the pressure that the
# test begins at: a drop of more than half is no drop to permit. A quarter above the largest leaves
# room for an edition that is not held.
MOST_OF_START, ABOVE_LARGEST = 0.5, 1.25


def permitted_drop(
    given: Mapping[str, Any], edition: str, volume: Q | None, ref: Any
) -> tuple[Q | None, tuple[str, ...]]:
    """Permitted drop of an existing installation with appliances, and the table it comes from.

    Raises:
        Impossible: The figure in place of the table can't be a permitted drop.
    """
    drop, figures = _found(given, edition, volume, ref)
    if drop is not None:
        _check(drop, given["test_start"], ref)
    return drop, figures


def _found(
    given: Mapping[str, Any], edition: str, volume: Q | None, ref: Any
) -> tuple[Q | None, tuple[str, ...]]:
    gas = given["gas"]
    by_meter = edition == "3" and gas == "natural_gas"
    table = BY_METER if by_meter else BY_VOLUME[gas]
    if given["permitted_drop"] is not None:
        if by_meter:
            _check_by_table(given, ref.rows(table))
        elif gas == "natural_gas":
            _check_for_meter(given["permitted_drop"], given["meter"], ref)
        ref.override(table, given["permitted_drop"])
        return given["permitted_drop"], (table,)
    if edition != ref.text("tightness.edition"):
        ref.use_newest(table)
    try:
        dated_value = ref.dated_value(table)
    except NotInForce:
        return None, ()
    if dated_value.value is not None:
        return parse_quantity(dated_value.value), (table,)
    rows = ref.rows(table)
    if by_meter:
        row = _by_meter(given, rows)
        ref.lower_provenance(table, row["provenance"])
        return parse_quantity(row["drop"]), (table,)
    return _by_volume(volume, rows), (table,)


def largest_drop(ref: Any) -> Q:
    """The largest drop that any edition held here ever permitted, for any gas."""
    drops = [Quantity(0.0, "mbar")]
    for table in (BY_METER, *sorted(set(BY_VOLUME.values()))):
        place = ref.reference.columns(table).index("drop")
        for dated_value in ref.reference.history(table):
            if dated_value.provenance in OF_HOSTS:
                continue  # what a host copied permits no more than the editions held here did
            drops += [parse_quantity(row[place]) for row in dated_value.rows or ()]
    return max(drops, key=si)


def beyond_any_held(
    table: str, rows: Sequence[Sequence[str]], reference: Any, day: date
) -> Iterator[tuple[int, str]]:
    """Rows of a host's table that permit more than any edition held here: place and reason."""
    if table not in BY_VOLUME.values():
        return
    largest = largest_drop(InForce(reference, day))
    for place, row in enumerate(rows):
        drop = parse_quantity(row[-1])
        if si(drop) > ABOVE_LARGEST * si(largest) + ROUNDING_TOLERANCE:
            yield place, f"A drop of {in_mbar(drop)} is beyond any: {in_mbar(largest)} is the most."


def check_typed(given: Mapping[str, Any], ref: Any) -> None:
    """Refuse a permitted drop that makes no sense, whether it comes to count or not."""
    if given["permitted_drop"] is not None and given["test_start"] is not None:
        _check(given["permitted_drop"], given["test_start"], ref)


def _check(drop: Q, start: Q, ref: Any) -> None:
    largest = largest_drop(ref)
    if si(drop) > ABOVE_LARGEST * si(largest) + ROUNDING_TOLERANCE:
        typed, most = in_mbar(drop), in_mbar(largest)
        raise Impossible("permitted_drop", "larger_than_any", typed=typed, largest=most)
    if si(drop) > MOST_OF_START * si(start) + ROUNDING_TOLERANCE:
        typed, at = in_mbar(drop), in_mbar(start)
        raise Impossible("permitted_drop", "more_than_half_of_the_start", typed=typed, start=at)


def _by_meter(given: Mapping[str, Any], rows: Sequence[Mapping[str, str]]) -> Mapping[str, str]:
    meter, pipe = given["meter"], largest_pipe(given)
    if meter is None:
        raise Missing("meter", "drop_by_meter_and_size")
    if pipe is None:
        raise Missing("largest_pipe", "drop_by_meter_and_size")
    for row in rows:
        if row["meter"] == meter and pipe <= cell(row["pipe"]) + ROUNDING_TOLERANCE:
            return row
    field = "meter" if meter not in {row["meter"] for row in rows} else "largest_pipe"
    raise Impossible(field, "beyond_the_small_procedure")


def largest_pipe(given: Mapping[str, Any]) -> float | None:
    """Nominal size of the largest pipe in m: typed, or from the pipes entered."""
    sizes = [si(row["size"]) for row in given["sections"] or ()]
    if given["largest_pipe"] is not None:
        sizes.append(si(given["largest_pipe"]))
    return max(sizes, default=None)


def _check_by_table(given: Mapping[str, Any], rows: Sequence[Mapping[str, str]]) -> None:
    """Refuse a typed drop that is looser than all that the table has for what was told.

    Raises:
        Impossible: It is.
    """
    pipe = largest_pipe(given) or 0.0
    held = [
        parse_quantity(row["drop"])
        for row in rows
        if given["meter"] in (None, row["meter"]) and pipe <= cell(row["pipe"]) + ROUNDING_TOLERANCE
    ]
    most, typed = max(held, key=si, default=None), given["permitted_drop"]
    if most is not None and si(typed) > si(most) + ROUNDING_TOLERANCE:
        raise Impossible("permitted_drop", "looser_than_the_table", most=in_mbar(most))


def _check_for_meter(typed: Q, meter: str | None, ref: Any) -> None:
    """Refuse a typed drop that is beyond what any edition held permits on that meter.

    A meter is the most of most volumes. Whether a table goes by it or by the volume, the larger one
    is permitted less.

    Raises:
        Impossible: It is.
    """
    columns = ref.reference.columns(BY_METER)
    its_meter, its_drop = columns.index("meter"), columns.index("drop")
    held = [
        parse_quantity(row[its_drop])
        for dated_value in ref.reference.history(BY_METER)
        for row in dated_value.rows or ()
        if row[its_meter] == meter and dated_value.provenance not in OF_HOSTS
    ]
    most = max(held, key=si, default=None)
    if most is not None and si(typed) > ABOVE_LARGEST * si(most) + ROUNDING_TOLERANCE:
        said, largest = in_mbar(typed), in_mbar(most)
        raise Impossible("permitted_drop", "more_than_on_this_meter", typed=said, most=largest)


def _by_volume(volume: Q | None, rows: Sequence[Mapping[str, str]]) -> Q | None:
    if not rows:
        return None
    if volume is None:
        raise Missing("installation_volume", "drop_by_volume")
    for row in rows:
        if si(volume) <= cell(row["volume_to"]) + ROUNDING_TOLERANCE:
            return parse_quantity(row["drop"])
    raise Impossible("installation_volume", "beyond_the_table")
