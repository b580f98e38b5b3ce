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

TRACE_LEFT = 1e-9  # of the square of a vector, once all is taken out that lies along another
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
        self._places = _places(self.conditions)
        self._whites: dict[tuple[tuple[str, float], ...], Vector] = {}

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
        found = [0.0] * len(self.conditions)
        for name, size in errors.items():
            for place, slope in self._places.get(name, ()):
                found[place] += slope * size
        return found

    def white_of(self, errors: Errors) -> Vector:
        """The shift of these errors, whitened: worked out once, since many questions ask for it."""
        key = tuple(errors.items())
        found = self._whites.get(key)
        if found is None:
            found = self._whites[key] = self.whitened(self.shift(errors))
        return found

    def whitened(self, shift: Sequence[float]) -> Vector:
        """A shift on the scale on which chance alone has a spread of one in each direction."""
        return forward(self._lower, shift)

    def detectability(self, errors: Errors) -> float:
        """√(dᵀ M d): how far these errors stand out of what chance does."""
        white = self.white_of(errors)
        return math.sqrt(dot(white, white))

    def confounding(self, one: Errors, other: Errors) -> float:
        """How alike two errors look, from 0 to 1; 0 where either can't be seen at all."""
        left, right = self.white_of(one), self.white_of(other)
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
        white = self.white_of(errors)
        size = math.sqrt(dot(white, white))
        return dot(white, self.white) / size if size else 0.0

    def freed(self, errors: Iterable[Errors]) -> tuple[float, int]:
        """χ² and degrees of freedom once errors of any size along these are allowed for.

        An error that can't be seen frees nothing.
        """
        left, axes = list(self.white), list[Vector]()
        for each in errors:
            white = self.white_of(each)
            before = dot(white, white)
            for axis in axes:
                along = dot(white, axis)
                white = [value - along * part for value, part in zip(white, axis, strict=True)]
            size = dot(white, white)
            if before == 0 or size <= TRACE_LEFT * before:
                continue
            axis = [value / math.sqrt(size) for value in white]
            along = dot(left, axis)
            left = [value - along * part for value, part in zip(left, axis, strict=True)]
            axes.append(axis)
        return dot(left, left), self.degrees - len(axes)

    def without(self, errors: Errors, misfit: Sequence[float]) -> Aside:
        """The same with another misfit, and errors along these of any size allowed for."""
        return Aside(self, errors, misfit)


class Aside:
    """A balance with errors along one direction, of any size, left out of every question.

    What lies along them is taken out of each whitened vector, so nothing is whitened anew.

    Args:
        balance: The conditions.
        errors: What is left out.
        misfit: Of the conditions, in place of their own.
    """

    def __init__(self, balance: Balance, errors: Errors, misfit: Sequence[float]) -> None:
        self._balance = balance
        axis = balance.white_of(errors)
        size = math.sqrt(dot(axis, axis))
        self._axis: Vector = [value / size for value in axis] if size else axis
        self.white: Vector = self.whitened(misfit)
        self.chi_square = dot(self.white, self.white)
        self.degrees = balance.degrees

    def white_of(self, errors: Errors) -> Vector:
        """The shift of these errors, whitened, without what looks like those left out."""
        return self._apart(self._balance.white_of(errors))

    def whitened(self, shift: Sequence[float]) -> Vector:
        """A shift, whitened, without what looks like those left out."""
        return self._apart(self._balance.whitened(shift))

    def _apart(self, white: Vector) -> Vector:
        along = dot(white, self._axis)
        left = [value - along * part for value, part in zip(white, self._axis, strict=True)]
        # Of what looks just like it, the last digits are left: no more than a trace.
        return left if dot(left, left) > TRACE_LEFT * dot(white, white) else [0.0] * len(left)


def _places(conditions: Sequence[Condition]) -> dict[str, list[tuple[int, float]]]:
    """By the name of an error, the conditions that it is in and how far it moves each."""
    found: dict[str, list[tuple[int, float]]] = {}
    for place, one in enumerate(conditions):
        for name, slope in one.slopes.items():
            found.setdefault(name, []).append((place, slope))
    return found
