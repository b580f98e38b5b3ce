"""Conditions that hold if all readings are right: reconciled, tested, and what each error shows.

Each condition is a sum that should be nought. What is off in it is told by errors, each with a
name and a standard uncertainty; one error may be in several conditions, as that of one gauge.
With B the slopes and V = B Σ Bᵀ, the misfit b has χ² = bᵀ V⁻¹ b, and an error d shifts it by B d.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from calcs.domain.cross_check.chance import tail_of_chi_square
from calcs.domain.cross_check.cholesky import Matrix, Vector, backward, dot, forward, lower_of

FREED, WIDE = "freed", 1e3  # an error of any size: so wide that nothing pulls at it
Errors = Mapping[str, float]  # by the name of an error, its size in the error's own unit


@dataclass(frozen=True)
class Condition:
    """One sum that should be nought.

    Args:
        name: What it is called.
        misfit: What it is with the readings as they stand.
        slopes: By the name of an error, how far the misfit moves for one unit of it.
    """

    name: str
    misfit: float
    slopes: Errors


class Balance:
    """Conditions together, with the uncertainty of every error in them.

    Args:
        conditions: Independent of each other: each has an error that no other has.
        uncertainties: Standard uncertainty of each error, by name.

    Raises:
        ValueError: The conditions are not independent.
    """

    def __init__(self, conditions: Sequence[Condition], uncertainties: Errors) -> None:
        self.conditions = tuple(conditions)
        self.uncertainties = uncertainties
        self._lower: Matrix = lower_of(self._covariance())
        self.misfit: Vector = [one.misfit for one in self.conditions]
        self.white: Vector = forward(self._lower, self.misfit)
        self.chi_square = dot(self.white, self.white)

    def _covariance(self) -> Matrix:
        known = self.uncertainties
        scaled = [
            {name: slope * known[name] for name, slope in one.slopes.items() if known[name]}
            for one in self.conditions
        ]
        return [
            [
                math.fsum(size * other.get(name, 0.0) for name, size in one.items())
                for other in scaled[: place + 1]
            ]
            for place, one in enumerate(scaled)
        ]

    @property
    def degrees(self) -> int:
        """Degrees of freedom: each condition is one."""
        return len(self.conditions)

    @property
    def chance(self) -> float:
        """Chance of as great a misfit where all is as declared."""
        return tail_of_chi_square(self.chi_square, self.degrees)

    def shift(self, errors: Errors) -> Vector:
        """How far these errors move each condition."""
        return [
            math.fsum(one.slopes.get(name, 0.0) * size for name, size in errors.items())
            for one in self.conditions
        ]

    def whitened(self, shift: Sequence[float]) -> Vector:
        """A shift on the scale on which chance alone has a spread of one in each direction."""
        return forward(self._lower, shift)

    def detectability(self, errors: Errors) -> float:
        """√(dᵀ M d): how far these errors stand out of what chance does."""
        white = self.whitened(self.shift(errors))
        return math.sqrt(dot(white, white))

    def confounding(self, one: Errors, other: Errors) -> float:
        """How alike two errors look, from 0 to 1; 0 where either can't be seen at all."""
        left, right = (self.whitened(self.shift(each)) for each in (one, other))
        scale = math.sqrt(dot(left, left) * dot(right, right))
        return abs(dot(left, right)) / scale if scale else 0.0

    def estimate(self, name: str) -> tuple[float, float]:
        """What the conditions make of one error, and its uncertainty after that."""
        own = self.uncertainties[name]
        shift = self.shift({name: 1.0})
        weights = backward(self._lower, self.white)
        white = self.whitened(shift)
        left = max(0.0, 1.0 - own * own * dot(white, white))
        return own * own * dot(shift, weights), own * math.sqrt(left)

    def deviation(self, errors: Errors) -> float:
        """The misfit along these errors in standard deviations: the adjusted residual."""
        white = self.whitened(self.shift(errors))
        size = math.sqrt(dot(white, white))
        return dot(white, self.white) / size if size else 0.0

    def freed(self, errors: Iterable[Errors]) -> tuple[float, int]:
        """χ² and degrees of freedom once errors of any size along these are allowed for.

        An error that can't be seen frees nothing.
        """
        left, axes = list(self.white), list[Vector]()
        for each in errors:
            white = self.whitened(self.shift(each))
            before = dot(white, white)
            for axis in axes:
                along = dot(white, axis)
                white = [value - along * part for value, part in zip(white, axis, strict=True)]
            size = dot(white, white)
            if before == 0 or size <= 1e-9 * before:
                continue
            axis = [value / math.sqrt(size) for value in white]
            along = dot(left, axis)
            left = [value - along * part for value, part in zip(left, axis, strict=True)]
            axes.append(axis)
        return dot(left, left), self.degrees - len(axes)

    def without(self, errors: Errors, misfit: Sequence[float]) -> Balance:
        """The same with another misfit, and errors along these of any size allowed for."""
        shift = self.shift(errors)
        size = self.detectability(errors)
        free = {name: value for name, value in self.uncertainties.items() if name != FREED}
        free[FREED] = WIDE / size if size else 0.0
        return Balance(
            [
                Condition(one.name, value, {**one.slopes, FREED: moved})
                for one, value, moved in zip(self.conditions, misfit, shift, strict=True)
            ],
            free,
        )
