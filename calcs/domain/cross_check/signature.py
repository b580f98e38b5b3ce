"""What may be wrong, as data says it, and how well each explains the misfit."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple, TypeAlias

from calcs.domain.cross_check.balance import Aside, Balance, Errors
from calcs.domain.cross_check.chance import LEAST, log_between, log_of_sum
from calcs.domain.cross_check.cholesky import Vector, dot
from calcs.domain.pipes.pipe_flow import natural_log

_LOG_ROOT_TWO_PI = 0.9189385332046727
BANDS = 6  # each range is cut in so many, each as likely as the next
# Between the squares of how far two bands lie from the size that fits, in deviations: the farther
# adds e⁻⁷⁵ of the nearer, and e⁻⁴⁰ where that is e³⁵ times as wide: nothing in the last digit.
NOTHING_BEYOND = 150.0
VISIBLE = 1e-3  # below this detectability of its largest size, nothing shows


@dataclass(frozen=True)
class Signature:
    """One thing that may be wrong: which errors it is, how large, how often.

    Args:
        name: Id of its words.
        family: What a reader is told together.
        errors: By the name of an error, how far one unit of it moves that.
        low: Least size, in the units of `errors`.
        high: Greatest size.
        both_ways: Whether it may as well be of the other sign.
        exact: Sizes that a slip has, in place of a range.
        weight: How often, beside the others.
    """

    name: str
    family: str
    errors: Errors
    low: float = 0.0
    high: float = 0.0
    both_ways: bool = False
    exact: tuple[float, ...] = ()
    weight: float = 1.0

    @property
    def greatest(self) -> float:
        """The largest size, whichever its sign."""
        return max(map(abs, self.exact or (self.low, self.high)))


class Fit(NamedTuple):
    """How well one signature explains the misfit.

    Args:
        signature: What is tried.
        evidence: Logarithm of how much likelier the misfit is with it than with nothing wrong.
        size: The size that explains it best.
        left: χ² that stays with that size.
    """

    signature: Signature
    evidence: float
    size: float
    left: float


# The misfit with an error of the signature taken out, worked out anew and not along slopes.
Corrected: TypeAlias = Callable[[Errors, float], "Vector | None"]


def fit(balance: Balance | Aside, signature: Signature, corrected: Corrected) -> Fit | None:
    """How well a signature explains the misfit; None where nothing of it could show."""
    white = balance.white_of(signature.errors)
    square = dot(white, white)
    if math.sqrt(square) * signature.greatest < VISIBLE:
        return None
    if signature.exact:
        return _exact(balance, signature, white, corrected)
    along = dot(white, balance.white)
    size = _within(signature, along / square)
    misfit = balance.white
    anew = corrected(signature.errors, size)
    if anew is not None:
        # What the slopes miss of so large an error, allowed for at the size that fits.
        moved = balance.whitened(anew)
        misfit = [value + size * part for value, part in zip(moved, white, strict=True)]
        along = dot(white, misfit)
        size = _within(signature, along / square)
    start = dot(misfit, misfit)
    left = start - 2 * size * along + size * size * square
    evidence = (balance.chi_square - start) / 2 + _averaged(signature, along, square)
    return Fit(signature, evidence, size, left)


def _exact(
    balance: Balance | Aside, signature: Signature, white: Vector, corrected: Corrected
) -> Fit | None:
    """A slip has one of a few sizes: the likelihood is averaged over those."""
    found = []
    for size in signature.exact:
        anew = corrected(signature.errors, size)
        if anew is None:
            moved = [value - size * part for value, part in zip(balance.white, white, strict=True)]
        else:
            moved = balance.whitened(anew)
        found.append((dot(moved, moved), size))
    gains = [(balance.chi_square - left) / 2 for left, _ in found]
    left, size = min(found)
    return Fit(signature, log_of_sum(gains) - natural_log(len(found)), size, left)


def _within(signature: Signature, size: float) -> float:
    """The size nearest to one that fits among those that it may have."""
    low, high = signature.low, signature.high
    if signature.both_ways and (size < 0) != (low < 0):
        low, high = -high, -low
    return min(max(size, low), high)


def _averaged(signature: Signature, along: float, square: float) -> float:
    """Logarithm of the mean of exp(along·a − square·a²/2) over the sizes a of a signature."""
    ranges = _ranges(signature.low, signature.high, both_ways=signature.both_ways)
    root = math.sqrt(square)
    at = along / root
    peak = at * at / 2 + _LOG_ROOT_TWO_PI - natural_log(root)
    ends = [(root * start - at, root * to - at) for start, to, _ in ranges]
    squares = [min(low * low, high * high) if low * high > 0 else 0.0 for low, high in ends]
    nearest = min(squares)
    found = []
    for (low, high), square_of_nearest, (_, _, width) in zip(ends, squares, ranges, strict=True):
        if square_of_nearest - nearest > NOTHING_BEYOND:
            continue
        share = log_between(low, high)
        if share > LEAST:
            found.append(peak + share - width)
    return log_of_sum(found) - natural_log(len(ranges))


@lru_cache(maxsize=256)
def _ranges(low: float, high: float, *, both_ways: bool) -> tuple[tuple[float, float, float], ...]:
    """Bands of either sign, each with the logarithm of its width."""
    bands = _bands(low, high)
    if both_ways:
        bands = [*bands, *((-to, -start) for start, to in bands)]
    return tuple((start, to, natural_log(to - start)) for start, to in bands)


def _bands(low: float, high: float) -> list[tuple[float, float]]:
    """The range in bands whose bounds grow by one ratio: small errors are as likely as large."""
    if low <= 0 <= high:
        step = (high - low) / BANDS
        return [(low + step * place, low + step * (place + 1)) for place in range(BANDS)]
    near, far = sorted((abs(low), abs(high)))
    ratio = math.exp(natural_log(far / near) / BANDS)
    bounds = [near]
    for _ in range(BANDS - 1):
        bounds.append(bounds[-1] * ratio)
    bounds.append(far)
    pairs = list(pairwise(bounds))
    return pairs if high > 0 else [(-to, -start) for start, to in pairs]
