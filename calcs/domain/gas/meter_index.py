"""Gas by the meter: as typed, by two readings of its index past the noughts too, by its dial."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from calcs.engine.errors import Impossible, InputName
from calcs.engine.traced import Traced, named, si
from calcs.engine.uncertainty import difference_of_readings
from calcs.engine.units import Q, Quantity, parse_unit, unit_text

INDEX_FULL = "gas_rate.index_full"
FULL_LABEL = "Where the index turns to nought"
INDEX_REFUSALS = ("not_above_the_first", "point_left_out", "unit_of_the_index")
# How much of the index may pass in one run. Two readings swapped would be nearly the whole of it.
ONE_RUN = 0.01
UNITS = ("m**3", "ft**3")
METRIC, IMPERIAL = (str(parse_unit(unit)) for unit in UNITS)
MOST_IN_ONE_RUN = 100.0  # m³ in one run, as where the gas used is typed: a check on typing
POWERS = (10, 100, 1000, 10000)


def gas_passed(
    method: str,
    volume: Q | None,
    readings: tuple[Q | None, Q | None],
    turns: tuple[Q | None, Q | None],
) -> Q:
    """Gas that passed, whichever way it was measured: by volume, by the index or by a test dial.

    Args:
        method: "volume", "index" or "dial"; the others of these arguments are then None.
        volume: As metered. [m**3]
        readings: Of the index, before and after. [m**3]
        turns: Gas passed in one turn of the test dial [ft**3], and how many turns there were.

    Raises:
        Impossible: The readings of the index can't be of one run.
    """
    (first, second), (dial, revolutions) = readings, turns
    if method == "index" and first is not None and second is not None:
        passed = gas_between(first, second)
        check_one_run(first, second, passed)
        return passed
    if method == "dial" and dial is not None:
        return (dial * revolutions).to("m**3")
    return volume


def gas_between(first_reading: Q, second_reading: Q) -> Q:
    """Gas that passed between two readings; it is never less than nothing.

    Raises:
        Impossible: The second is below the first, and the index did not turn to nought.

    >>> gas_between(Quantity(999.9, "m**3"), Quantity(0.1, "m**3")).magnitude
    0.2000000000000455
    """
    if second_reading >= first_reading:
        return second_reading - first_reading
    full = _full(first_reading, second_reading)
    if full is None:
        slip = _one_lacks_its_point(first_reading, second_reading)
        raise Impossible("second_reading", "point_left_out" if slip else "not_above_the_first")
    return second_reading + full - first_reading


def check_one_run(first_reading: Q, second_reading: Q, volume: Q) -> None:
    """Refuse what cannot have passed while an appliance was timed.

    Raises:
        Impossible: No gas passed, or more than any run passes.
    """
    if volume.magnitude == 0:
        raise Impossible("second_reading", "not_above_the_first")
    if si(volume) > MOST_IN_ONE_RUN:
        one = _one_lacks_its_point(first_reading, second_reading)
        raise Impossible("second_reading", "point_left_out" if one else "far_above_the_first")


def turned(first_reading: Q, second_reading: Q) -> int:
    """Figures before the point of an index that went from nines to noughts; 0 where none did.

    >>> turned(Quantity(99999.95, "m**3"), Quantity(0.04, "m**3"))
    5
    >>> turned(Quantity(123456, "m**3"), Quantity(123.546, "m**3"))
    0
    """
    full = _full(first_reading, second_reading)
    return 0 if full is None else round(math.log10(full.magnitude))


def _full(first_reading: Q, second_reading: Q) -> Q | None:
    """What the index would show after its nines, in the unit that it counts in.

    An index turns from nines alone, so a reading just before that has all of its figures. It counts
    in cubic metres or cubic feet, whatever unit its readings are told in.
    """
    if second_reading >= first_reading:
        return None
    for unit in UNITS:
        first, second = (float(one.to(unit).magnitude) for one in (first_reading, second_reading))
        full = 10.0 ** len(str(int(first)))
        if second + full - first <= ONE_RUN * full:
            return named(Quantity(full, unit), "index_full", FULL_LABEL, role="figure")
    return None


def _one_lacks_its_point(first_reading: Q, second_reading: Q) -> bool:
    """Whether one of the two, divided by ten often enough, is just beside the other."""
    least, most = sorted((si(first_reading), si(second_reading)))
    return least > 0 and any(abs(most / (power * least) - 1) <= ONE_RUN for power in POWERS)


def reading_after(first_reading: Q, volume: Q, ref: Mapping[str, Q]) -> Q:
    """What the index shows when that much gas has passed."""
    stop = first_reading + volume
    # A larger meter has more figures: what stands above the turn already does not turn there.
    return stop - ref[INDEX_FULL] if si(first_reading) < si(ref[INDEX_FULL]) <= si(stop) else stop


def check_unit_of_index(given: Mapping[str, Any], fields: tuple[str, ...], instrument: str) -> None:
    """Refuse readings in another unit than their index counts in.

    Cubic feet typed as cubic metres are 35 times as much gas. The step of a meter of the reader's
    own may be in litres: there it says whether the index is metric, and no more.

    Raises:
        Impossible: The unit does not belong to the meter chosen.
    """
    typed = [field for field in fields if given[field] is not None]
    step = given.get(f"{instrument}_resolution")
    meant = "" if step is None else str(step.units)
    if step is not None and meant != IMPERIAL:
        meant = METRIC
    if step is None and typed:
        meant = str(given[typed[0]].units)
    for field in typed:
        found = str(given[field].units)
        if found != meant:
            unit, its_unit, index = unit_text(found), unit_text(meant), InputName(instrument)
            raise Impossible(field, "unit_of_the_index", unit=unit, its_unit=its_unit, index=index)


def check_unit_of_volume(given: Mapping[str, Any], field: str, instrument: str) -> None:
    """Refuse gas used in cubic metres where its meter counts cubic feet: 35 times as much.

    Raises:
        Impossible: It was typed so.
    """
    typed, step = given[field], given[f"{instrument}_resolution"]
    if typed is None or step is None or _is_imperial(typed) or not _is_imperial(step):
        return
    unit, its_unit, meter = unit_text(METRIC), unit_text(IMPERIAL), InputName(instrument)
    raise Impossible(field, "unit_of_the_volume", unit=unit, its_unit=its_unit, meter=meter)


def is_of_index_or_dial(given: Mapping[str, Any], field: str, instrument: str) -> bool:
    """Whether gas used in cubic feet was read on a meter of which nobody said that it counts them.

    It was an index or a test dial, and their steps are a hundred times apart.
    """
    typed, step = given[field], given[f"{instrument}_resolution"]
    is_read = typed is not None and step is not None
    return is_read and _is_imperial(typed) and not _is_imperial(step)


def gas_read(passed: Q, resolution: Q | None, accuracy: Q | None) -> Q:
    """Give the gas that passed the uncertainty of its meter.

    An index in cubic feet steps in whole ones, a test dial in hundredths. Where a meter is chosen
    that counts no cubic feet, nobody said which of them it was: no less than the last figure that
    was typed counts.

    Args:
        passed: As it was typed, or between two readings.
        resolution: Step of the meter that was chosen.
        accuracy: What it gains or loses.
    """
    step = resolution
    is_typed = isinstance(passed, Traced) and passed.role == "input" and _is_imperial(passed)
    if step is not None and is_typed and not _is_imperial(step):
        last = Quantity(10.0**-passed.typed_places, UNITS[1])
        step = last if si(last) > si(step) else step
    return difference_of_readings(passed, step, accuracy, "meter")


def _is_imperial(volume: Q) -> bool:
    return str(volume.units) == IMPERIAL
