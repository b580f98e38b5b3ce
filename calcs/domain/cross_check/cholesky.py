"""A symmetric positive matrix taken apart, and the sums that follow. Plain numbers throughout."""

from __future__ import annotations

import math
from collections.abc import Sequence
from operator import mul
from typing import TypeAlias

Vector: TypeAlias = list[float]
Matrix: TypeAlias = list[list[float]]


def dot(left: Sequence[float], right: Sequence[float]) -> float:
    """Sum of products, rounded once.

    >>> dot([1.0, 2.0], [3.0, 4.0])
    11.0
    """
    return math.fsum(map(mul, left, right))


def lower_of(matrix: Matrix) -> Matrix:
    """The lower triangle L with L Lᵀ = matrix, each row without the noughts beyond the diagonal.

    Raises:
        ValueError: The matrix is not positive: two of its rows say the same.

    >>> lower_of([[4.0, 2.0], [2.0, 5.0]])
    [[2.0], [1.0, 2.0]]
    """
    lower: Matrix = []
    for place, row in enumerate(matrix):
        made: Vector = []
        for other in range(place):
            above = lower[other]
            made.append((row[other] - dot(made, above[:other])) / above[other])
        left = row[place] - dot(made, made)
        if left <= 1e-12 * row[place] or not math.isfinite(left):
            raise ValueError("The conditions are not independent of each other.")
        made.append(math.sqrt(left))
        lower.append(made)
    return lower


def forward(lower: Matrix, right: Sequence[float]) -> Vector:
    """Solve L x = right: what is left of each condition once those before it are allowed for.

    >>> forward([[2.0], [1.0, 2.0]], [4.0, 6.0])
    [2.0, 2.0]
    """
    found: Vector = []
    for row, value in zip(lower, right, strict=True):
        found.append((value - dot(row[:-1], found)) / row[-1])
    return found


def backward(lower: Matrix, right: Sequence[float]) -> Vector:
    """Solve Lᵀ x = right.

    >>> backward([[2.0], [1.0, 2.0]], [4.0, 6.0])
    [0.5, 3.0]
    """
    size = len(lower)
    found = [0.0] * size
    for place in range(size - 1, -1, -1):
        beyond = dot([lower[row][place] for row in range(place + 1, size)], found[place + 1 :])
        found[place] = (right[place] - beyond) / lower[place][place]
    return found
