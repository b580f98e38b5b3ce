"""How often chance alone does as much: the tail of χ² and the integral of a bell curve."""

from __future__ import annotations

import math

from calcs.domain.pipes.pipe_flow import natural_log

_HALF_LOG_TWO_PI = 0.9189385332046727
_ROOT_HALF = 0.7071067811865476
_FAR = 6.0  # standard deviations from which the tail is worked out by its series
_ALL_OF_IT = 90.0  # between squares: beyond lies e⁻⁴⁵ of a tail at most, nothing in its last digit
LEAST = -1e300  # logarithm of what can't be


def tail_of_chi_square(value: float, degrees: int) -> float:
    """Chance of a χ² of at least `value` where all is as declared.

    The upper incomplete gamma function Q(k/2, χ²/2). By one step of its recurrence at a time from
    Q(1/2, x) = erfc √x and Q(1, x) = e⁻ˣ, which are closed for whole degrees of freedom.

    Args:
        value: χ².
        degrees: Degrees of freedom; with none there is nothing to test.

    >>> round(tail_of_chi_square(9.487729, 4), 6), tail_of_chi_square(0.0, 3)
    (0.05, 1.0)
    """
    half = max(value, 0.0) / 2
    if degrees <= 0 or half == 0:
        return 1.0
    if half > 700:  # e⁻ˣ would be nought
        return 0.0
    order = 0.5 if degrees % 2 else 1.0
    total = math.erfc(math.sqrt(half)) if degrees % 2 else math.exp(-half)
    # Q(a + 1, x) = Q(a, x) + xᵃ e⁻ˣ ÷ Γ(a + 1)
    term = math.exp(-half)
    if degrees % 2:
        term *= math.sqrt(half) * 1.1283791670955126  # 1 ÷ Γ(3/2) = 2 ÷ √π
    else:
        term *= half
    while order < degrees / 2:
        total += term
        order += 1
        term *= half / order
    return min(1.0, total)


def log_between(low: float, high: float) -> float:
    """Logarithm of the share of a standard bell curve between two points, however far out.

    >>> round(math.exp(log_between(-1.0, 1.0)), 4)
    0.6827
    >>> round(log_between(40.0, 41.0))
    -805
    """
    if high < low:
        low, high = high, low
    if high < 0:
        low, high = -high, -low
    if low > _FAR:
        near = log_tail(low)
        if high * high - low * low > _ALL_OF_IT:
            return near
        beyond = log_tail(high)
        return near + natural_log(max(1.0 - math.exp(beyond - near), 1e-300))
    share = (math.erf(high * _ROOT_HALF) - math.erf(low * _ROOT_HALF)) / 2
    if low > 0:
        share = (math.erfc(low * _ROOT_HALF) - math.erfc(high * _ROOT_HALF)) / 2
    return natural_log(share) if share > 1e-300 else LEAST


def log_tail(point: float) -> float:
    """Logarithm of the share of a standard bell curve beyond a point far out.

    The asymptotic series of Mills' ratio, cut before its terms grow: at six deviations the
    error is below a millionth.
    """
    square = point * point
    total, term = 1.0, 1.0
    for count in range(1, 12):
        further = -term * (2 * count - 1) / square
        if abs(further) >= abs(term):
            break
        term = further
        total += term
    return -square / 2 - _HALF_LOG_TWO_PI - natural_log(point) + natural_log(total)


def log_of_sum(logarithms: list[float]) -> float:
    """Logarithm of the sum of what these are the logarithms of.

    >>> round(log_of_sum([0.0, 0.0]), 6)
    0.693147
    """
    most = max(logarithms, default=LEAST)
    if most <= LEAST:
        return LEAST
    return most + natural_log(math.fsum(math.exp(max(one - most, -745.0)) for one in logarithms))
