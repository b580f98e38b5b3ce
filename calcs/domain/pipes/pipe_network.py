"""A branched pipe run: which section feeds which, what each carries, what each path loses.

Plain numbers in SI base units throughout, as in `pipe_flow`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calcs.domain.pipes.pipe_flow import Gas, Pipe, friction_loss
from calcs.engine.errors import Impossible
from calcs.engine.traced import si
from calcs.engine.uncertainty import standard_uncertainty

METER = -1


@dataclass(frozen=True)
class Branches:
    """The tree of the sections.

    Args:
        rows: Number that the reader sees beside each section.
        feeders: Place of the section that feeds each one, `METER` for the meter itself.
        heat: Heat input burnt at the end of each section, in W.
        volume: Gas flow taken at the end of each section where it was typed as such, in m³/s.
        rises: How far each section's end is above its start, in m.
        order: Places, each after the one that feeds it.
        length_uncertainties: Standard uncertainty of each section's length, in m.
        rise_uncertainties: Standard uncertainty of each section's rise, in m.
    """

    rows: tuple[int, ...]
    feeders: tuple[int, ...]
    heat: tuple[float, ...]
    volume: tuple[float, ...]
    rises: tuple[float, ...]
    order: tuple[int, ...]
    length_uncertainties: tuple[float, ...] = ()
    rise_uncertainties: tuple[float, ...] = ()

    @property
    def ends(self) -> list[int]:
        """Places of the sections with an appliance at their end."""
        return [place for place in self.order if self.heat[place] or self.volume[place]]

    def path(self, place: int) -> list[int]:
        """Places from the meter to the end of a section."""
        found: list[int] = []
        while place != METER:
            found.append(place)
            place = self.feeders[place]
        return found[::-1]

    def carried(self, own: Sequence[float]) -> list[float]:
        """What passes each section, when this much is taken at the end of each."""
        found = list(own)
        for place in reversed(self.order):
            if self.feeders[place] != METER:
                found[self.feeders[place]] += found[place]
        return found

    def along(self, own: Sequence[float]) -> list[float]:
        """Sum of a figure of each section from the meter to its end."""
        found = list(own)
        for place in self.order:
            if self.feeders[place] != METER:
                found[place] += found[self.feeders[place]]
        return found


def branches(sections: Sequence[Mapping[str, Any]]) -> Branches:
    """The tree of the rows that the reader filled.

    Raises:
        Impossible: A row continues from no row, from itself or in a ring.
    """
    rows = tuple(section.get("row", place + 1) for place, section in enumerate(sections))
    feeders = tuple(_feeder(place, sections[place], rows) for place in range(len(rows)))
    loads = [_load(section.get("load")) for section in sections]
    return Branches(
        rows=rows,
        feeders=feeders,
        heat=tuple(load[0] for load in loads),
        volume=tuple(load[1] for load in loads),
        rises=tuple(_si_or_zero(section.get("rise")) for section in sections),
        order=_order(feeders, rows),
        length_uncertainties=tuple(
            standard_uncertainty(section.get("length")) for section in sections
        ),
        rise_uncertainties=tuple(standard_uncertainty(section.get("rise")) for section in sections),
    )


def _feeder(place: int, section: Mapping[str, Any], rows: tuple[int, ...]) -> int:
    joins = section.get("joins")
    if joins is None:
        return place - 1  # the row above; the first row starts at the meter
    number = float(joins.magnitude)
    if number == 0:
        return METER
    if number not in rows or number == rows[place]:
        field = f"sections[{rows[place] - 1}].joins"
        listed = ", ".join(str(row) for row in rows if row != rows[place])
        if not listed:
            raise Impossible(field, "no_other_row")
        raise Impossible(field, "no_such_row", rows=listed)
    return rows.index(int(number))


def _order(feeders: tuple[int, ...], rows: tuple[int, ...]) -> tuple[int, ...]:
    children: dict[int, list[int]] = {}
    for place, feeder in enumerate(feeders):
        children.setdefault(feeder, []).append(place)
    order: list[int] = []
    waiting = [METER]
    while waiting:
        place = waiting.pop(0)
        if place != METER:
            order.append(place)
        waiting.extend(children.get(place, []))
    if len(order) < len(rows):
        lost = next(place for place in range(len(rows)) if place not in order)
        field = f"sections[{rows[lost] - 1}].joins"
        raise Impossible(field, "round_in_a_ring")
    return tuple(order)


def _load(load: Any) -> tuple[float, float]:
    """Heat in W and flow in m³/s: a load is typed as one or the other."""
    if load is None:
        return 0.0, 0.0
    return (si(load), 0.0) if load.check("[power]") else (0.0, si(load))


def _si_or_zero(value: Any) -> float:
    return 0.0 if value is None else si(value)


@dataclass(frozen=True)
class Losses:
    """What each section and each path loses, in Pa.

    Args:
        friction: Of each section.
        gain: Pressure each section gains by height; LPG loses as it rises.
        net: From the meter to the end of each section.
        worst: Place of the appliance with the greatest net loss.
    """

    friction: list[float]
    gain: list[float]
    net: list[float]
    worst: int


def losses(
    tree: Branches, flows: Sequence[float], pipes: Sequence[Pipe], gas: Gas, lift: float
) -> Losses:
    """Losses of the whole run.

    Args:
        tree: Its sections.
        flows: Flow in each, in m³/s.
        pipes: Tube and length of each.
        gas: What flows.
        lift: Pressure gained for each metre of rise, in Pa/m.
    """
    friction = [friction_loss(flow, pipe, gas) for flow, pipe in zip(flows, pipes, strict=True)]
    gain = [lift * rise for rise in tree.rises]
    net = tree.along([lost - won for lost, won in zip(friction, gain, strict=True)])
    return Losses(friction, gain, net, max(tree.ends, key=net.__getitem__))


def share_at_limit(
    flows: Sequence[float], pipes: Sequence[Pipe], gas: Gas, allowed: float
) -> float:
    """By how much all flows can be multiplied until a path loses `allowed` Pa by friction.

    Where the loss jumps at the start of the unsettled band, the flow just below the jump.

    >>> tube = Pipe(length=10, bore=0.02, roughness=0)
    >>> air = Gas(density=1.0, viscosity=1e-5, transition=1600)
    >>> round(share_at_limit([1e-4], [tube], air, friction_loss(2e-4, tube, air)), 9)
    2.0
    """
    path = list(zip(flows, pipes, strict=True))

    def excess(share: float) -> float:
        lost = (friction_loss(share * flow, pipe, gas) for flow, pipe in path)
        return math.fsum(lost) / allowed - 1

    if allowed <= 0:
        return 0.0
    # The loss goes with the flow to a power between one and two, where it does not jump.
    ratio = 1 / (excess(1.0) + 1)
    low, high = sorted((ratio, math.sqrt(ratio)))
    while excess(low) > 0:
        low, high = low / 2, low
    while excess(high) <= 0:
        low, high = high, high * 2
    return _crossing(excess, low, high)


def _crossing(excess: Callable[[float], float], low: float, high: float) -> float:
    """Root of a rising function by Illinois steps, every third a halving; the end below is kept."""
    below, above, side = excess(low), excess(high), 0
    for turn in range(150):
        if high - low <= 4e-15 * high:
            break
        middle = (low * above - high * below) / (above - below)
        if turn % 3 == 2 or not low < middle < high:
            middle = (low + high) / 2
        found = excess(middle)
        if abs(found) < 1e-13:
            return middle
        if found > 0:
            below = below / 2 if side > 0 else below
            high, above, side = middle, found, 1
        else:
            above = above / 2 if side < 0 else above
            low, below, side = middle, found, -1
    return low
