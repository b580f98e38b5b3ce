"""Loss of pressure of a gas in one pipe: Darcy–Weisbach, with the friction factor solved.

Plain numbers in SI base units throughout: these functions run thousands of times for one answer.
They use + − × ÷ and √ alone, so that every machine gives the same last digit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

PI = math.pi
_LN_2 = 0.6931471805599453
_LN_10 = 2.302585092994046
_ROOT_HALF = 0.7071067811865476
# ln((1 + r) ÷ (1 − r)) = 2 r (1 + r²/3 + r⁴/5 + …), the last first; the next is below 1e-18.
_SERIES = tuple(1 / (2 * term + 1) for term in range(11, -1, -1))


def natural_log(value: float) -> float:
    """Natural logarithm. The one of the C library differs in its last digit between machines.

    >>> natural_log(1.0), round(natural_log(10.0), 12)
    (0.0, 2.302585092994)
    """
    mantissa, exponent = math.frexp(value)
    if mantissa < _ROOT_HALF:
        mantissa, exponent = 2 * mantissa, exponent - 1
    ratio = (mantissa - 1) / (mantissa + 1)
    square = ratio * ratio
    total = 0.0
    for share in _SERIES:
        total = total * square + share
    return exponent * _LN_2 + 2 * ratio * total


def turbulent_friction(reynolds: float, relative_roughness: float) -> float:
    """Friction factor (Darcy) of turbulent flow: Colebrook, solved by Newton's method.

    x = 1/√f solves x + 2 log₁₀(ε/3.7d + 2.51 x/Re) = 0. The left side rises with x and its slope
    falls, so each step comes nearer. The steps end when the last digits no longer change: the
    relative error of f is then below 1e-14.

    Args:
        reynolds: Reynolds number.
        relative_roughness: Roughness over bore.

    >>> round(turbulent_friction(1e5, 1e-4), 12)
    0.018513866077
    """
    rough, smooth, slope = relative_roughness / 3.7, 2.51 / reynolds, 2 / _LN_10
    x = 5.0  # f = 0.04, as at the speeds of a house
    for _ in range(30):
        inside = rough + smooth * x
        step = (x + slope * natural_log(inside)) / (1 + slope * smooth / inside)
        # A step below zero would leave the domain of the logarithm: very low Reynolds numbers.
        x = x - step if x > step else x / 2
        if abs(step) <= 2e-16 * x:
            break
    return 1 / (x * x)


@dataclass(frozen=True)
class Gas:
    """What the loss depends on of a gas, and where smooth flow ends.

    Args:
        density: At the reference state. In kg/m³.
        viscosity: Dynamic. In Pa·s.
        transition: Reynolds number from which the greater loss of the two laws counts.
    """

    density: float
    viscosity: float
    transition: float


@dataclass(frozen=True)
class Pipe:
    """One pipe of one bore, its fittings counted as length. All in metres."""

    length: float
    bore: float
    roughness: float


def reynolds_number(flow: float, pipe: Pipe, gas: Gas) -> float:
    """Reynolds number of a flow in m³/s."""
    return 4 * gas.density * flow / (PI * pipe.bore * gas.viscosity)


def friction_factor(reynolds: float, relative_roughness: float, transition: float) -> float:
    """Friction factor (Darcy): 64/Re in smooth flow, Colebrook in turbulent flow.

    In the band between, where either may hold, the greater of the two: for a given loss that is
    the law that passes the lower flow.
    """
    smooth = 64 / reynolds
    if reynolds < transition:
        return smooth
    return max(smooth, turbulent_friction(reynolds, relative_roughness))


def friction_loss(flow: float, pipe: Pipe, gas: Gas) -> float:
    """Loss of pressure by friction, in Pa, of a flow in m³/s.

    >>> air = Gas(density=1.0, viscosity=1e-5, transition=1600)
    >>> smooth = friction_loss(1e-4, Pipe(length=10, bore=0.02, roughness=0), air)
    >>> round(smooth, 6) == round(128 * 1e-5 * 10 * 1e-4 / (PI * 0.02**4), 6)
    True
    """
    if flow <= 0 or pipe.length <= 0:
        return 0.0
    factor = friction_factor(
        reynolds_number(flow, pipe, gas), pipe.roughness / pipe.bore, gas.transition
    )
    speed = 4 * flow / (PI * pipe.bore * pipe.bore)
    return factor * (pipe.length / pipe.bore) * gas.density * speed * speed / 2
