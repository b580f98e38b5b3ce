"""The smallest set of tubes with which every path of a run stays within its loss.

Smallest means least tube: the sum of length times size. From the appliances towards the meter each
section keeps only those choices that no other beats in both loss and tube (Bellman's principle).
Plain numbers in SI base units throughout.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calcs.topics.pipe_network import METER, Branches

KEPT = 32  # choices kept of a section; more make no difference that a tube can show
STEPS = 6  # sizes tried above the smallest that could do; the last loses a five-hundredth


@dataclass(frozen=True)
class Choice:
    """What one section and all behind it may be.

    Args:
        need: Greatest net loss from the start of the section to an appliance behind it, in Pa.
        tube: Length times size of the tube in it.
        size: Place of the section's size among the sizes offered.
        behind: Choices of the sections that continue from it, by place.
    """

    need: float
    tube: float
    size: int
    behind: tuple[tuple[int, Any], ...]


@dataclass(frozen=True)
class Offer:
    """What each section may be made of.

    Args:
        friction: Loss of each section in each size, in Pa; None where the size cannot be used.
        tube: Length times size, alike.
        gain: Pressure that each section gains by height, in Pa.
        limit: Permitted loss from the meter to an appliance, in Pa.
    """

    friction: Sequence[Sequence[float | None]]
    tube: Sequence[Sequence[float]]
    gain: Sequence[float]
    limit: float


def smallest_set(tree: Branches, offer: Offer) -> list[int] | None:
    """Place of the size of each section; None where no set keeps the limit.

    >>> straight = Branches((1,), (METER,), (1.0,), (0.0,), (0.0,), (0,))
    >>> smallest_set(straight, Offer([[150.0, 90.0, 10.0]], [[1, 2, 3]], [0.0], 100.0))
    [1]
    """
    found = _search(tree, offer, STEPS) or _search(tree, offer, None)
    return None if found is None else _trimmed(tree, offer, found)


def net_losses(tree: Branches, offer: Offer, sizes: Sequence[int]) -> list[float]:
    """Net loss from the meter to the end of each section."""
    return tree.along(
        [
            (offer.friction[place][size] or 0.0) - offer.gain[place]
            for place, size in enumerate(sizes)
        ]
    )


def worst_of(tree: Branches, offer: Offer, sizes: Sequence[int]) -> float:
    """Greatest net loss to an appliance."""
    net = net_losses(tree, offer, sizes)
    return max(net[place] for place in tree.ends)


def _search(tree: Branches, offer: Offer, steps: int | None) -> list[int] | None:
    """Best choices of every section, from the last towards the meter."""
    slack = math.fsum(gain for gain in offer.gain if gain > 0)
    best: dict[int, list[Choice]] = {}
    children: dict[int, list[int]] = {}
    for place in tree.order:
        children.setdefault(tree.feeders[place], []).append(place)
    ends = set(tree.ends)
    for place in reversed(tree.order):
        behind = _together(children.get(place, []), best)
        if place in ends:
            behind = _unbeaten([(max(need, 0.0), tube, way) for need, tube, way in behind])
        best[place] = _choices(place, behind, offer, offer.limit + slack, steps)
        if not best[place]:
            return None
    whole = [way for way in _together(children[METER], best) if way[0] <= offer.limit]
    if not whole:
        return None
    sizes = [0] * len(tree.rows)
    waiting = list(min(whole, key=lambda way: way[1])[2])
    while waiting:
        place, choice = waiting.pop()
        sizes[place] = choice.size
        waiting.extend(choice.behind)
    return sizes


Way = tuple[float, float, tuple[tuple[int, Choice], ...]]  # need, tube, choices by place


def _together(places: Sequence[int], best: dict[int, list[Choice]]) -> list[Way]:
    """Choices for several sections that continue from one point: needs side by side, tube added."""
    ways: list[Way] = [(float("-inf"), 0.0, ())]
    for place in places:
        # Both lists run from least need to greatest, so that one walk along both is enough.
        merged: list[Way] = []
        left, right = 0, 0
        options = best[place]
        while left < len(ways) and right < len(options):
            need, tube, way = ways[left]
            option = options[right]
            merged.append((max(need, option.need), tube + option.tube, (*way, (place, option))))
            next_left = ways[left + 1][0] if left + 1 < len(ways) else float("inf")
            next_right = options[right + 1].need if right + 1 < len(options) else float("inf")
            if next_left <= next_right:
                left += 1
            else:
                right += 1
        ways = _unbeaten(merged)
    return ways


def _choices(
    place: int, behind: Sequence[Way], offer: Offer, most: float, steps: int | None
) -> list[Choice]:
    """The section in each size before each way behind it, those that nothing beats."""
    able = [
        (size, lost - offer.gain[place])
        for size, lost in enumerate(offer.friction[place])
        if lost is not None and lost - offer.gain[place] <= most
    ]
    ways = [
        (need + lost, tube + offer.tube[place][size], (size, way))
        for size, lost in able[:steps]
        for need, tube, way in behind
        if need + lost <= most
    ]
    return [Choice(need, tube, size, way) for need, tube, (size, way) in _unbeaten(ways)]


def _unbeaten(ways: list[Any]) -> list[Any]:
    """Those with less tube than every one of less need, least need first; not too many of them."""
    kept: list[Any] = []
    for way in sorted(ways, key=lambda way: (way[0], way[1])):
        if not kept or way[1] < kept[-1][1]:
            kept.append(way)
    if len(kept) <= KEPT:
        return kept
    width = (kept[-1][0] - kept[0][0]) / (KEPT - 1)
    # Of choices that lie close together, the one with the least tube.
    binned = {int((way[0] - kept[0][0]) / width) if width else 0: way for way in kept[1:]}
    return [kept[0], *binned.values()]


def _trimmed(tree: Branches, offer: Offer, sizes: list[int]) -> list[int]:
    """Take one size off wherever that still keeps the limit, the most tube saved first."""
    while True:
        savings = []
        for place, size in enumerate(sizes):
            if size and offer.friction[place][size - 1] is not None:
                tried = [*sizes[:place], size - 1, *sizes[place + 1 :]]
                if worst_of(tree, offer, tried) <= offer.limit:
                    saved = offer.tube[place][size] - offer.tube[place][size - 1]
                    savings.append((saved, -place, tried))
        if not savings:
            return sizes
        sizes = max(savings)[2]
