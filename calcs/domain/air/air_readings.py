"""A series of readings over time: its mean, its worst stretch, and how fast it falls.

Between two readings the value is taken to run straight from one to the other. The times are plain
numbers of one unit; a result has that unit or the unit of the values.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise

Numbers = Sequence[float]


def mean_between(times: Numbers, values: Numbers, start: float, end: float) -> float:
    """Mean of the values from one time to another, by trapezia.

    Args:
        times: In ascending order.
        values: One for each time.
        start: Not before the first time.
        end: After `start` and not after the last time.

    >>> mean_between([0, 10, 20], [0, 10, 10], 0, 20)
    7.5
    """
    inside = [place for place, time in enumerate(times) if start < time < end]
    knots = [start, *(times[place] for place in inside), end]
    heights = [
        _at(times, values, start),
        *(values[place] for place in inside),
        _at(times, values, end),
    ]
    area = math.fsum(
        (later - earlier) * (first + second) / 2
        for (earlier, later), (first, second) in zip(
            pairwise(knots), pairwise(heights), strict=True
        )
    )
    return area / (end - start)


def _at(times: Numbers, values: Numbers, time: float) -> float:
    after = min(max(bisect_right(times, time), 1), len(times) - 1)
    left, right = times[after - 1], times[after]
    share = (time - left) / (right - left)
    return values[after - 1] * (1 - share) + values[after] * share


def worst_start(times: Numbers, values: Numbers, period: float) -> float | None:
    """When the stretch of a given length with the highest mean begins; None if none is so long.

    The mean of a moving stretch can only be highest where either end passes a reading, or where
    the values at both ends are equal.

    >>> worst_start([0, 10, 20], [0, 10, 0], 10)
    5.0
    """
    last = times[-1] - period
    # A hair for a period that is the whole series, its last digits aside.
    if last < times[0] - 1e-9 * period:
        return None
    last = max(last, times[0])
    ends = (*times, *(time - period for time in times), last)
    turns = sorted({time for time in ends if times[0] <= time <= last})
    gains = [_at(times, values, start + period) - _at(times, values, start) for start in turns]
    for (before, gain), (after, next_gain) in list(pairwise(zip(turns, gains, strict=True))):
        if gain > 0 > next_gain:
            turns.append(before + (after - before) * gain / (gain - next_gain))
    return max(turns, key=lambda start: worst_mean(times, values, start, period))


def _end(times: Numbers, start: float, period: float) -> float:
    return min(start + period, times[-1])


def worst_mean(times: Numbers, values: Numbers, start: float, period: float) -> float:
    """Mean of the stretch that begins at `start`."""
    return mean_between(times, values, start, _end(times, start, period))


def rate_of_fall(times: Numbers, values: Numbers) -> float:
    """Share by which the values fall in each unit of time, by least squares of their logarithms.

    Args:
        times: At least two, not all equal.
        values: Above the level that they fall to, all above nothing.

    >>> round(rate_of_fall([0, 1, 2], [100, 50, 25]), 12) == round(math.log(2), 12)
    True
    """
    logarithms = [math.log(value) for value in values]
    middle, height = (math.fsum(numbers) / len(numbers) for numbers in (times, logarithms))
    spread = math.fsum((time - middle) ** 2 for time in times)
    slope = math.fsum(
        (time - middle) * (logarithm - height)
        for time, logarithm in zip(times, logarithms, strict=True)
    )
    return -slope / spread
