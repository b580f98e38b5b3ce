"""The smallest set of tubes with which every path of a run stays within its loss.

Smallest means least tube: the sum of length times size. No tube is narrower than one behind it,
unless that is asked for. From the appliances towards the meter each section keeps, for each size,
only those choices that no other beats in both loss and tube (Bellman's principle).
Plain numbers in SI base units throughout.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from operator import itemgetter
from typing import Any, NamedTuple

from calcs.domain.pipes.pipe_network import METER, Branches

KEPT = 32  # choices kept of a section; more make no difference that a tube can show
NEED_AND_TUBE = itemgetter(0, 1)
STEPS = 6  # sizes tried above the smallest that could do; the last loses a five-hundredth


class Choice(NamedTuple):
    """What one section and all behind it may be.

    A tuple: thousands are made for one answer.

    Args:
        need: Greatest net loss from the start of the section to an appliance behind it, in Pa.
        tube: Length times size of the tube in it.
        place: The section.
        size: Place of the section's size among the sizes offered.
        behind: Choices of the sections that continue from it.
    """

    need: float
    tube: float
    place: int
    size: int
    behind: tuple[Any, ...]


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


def smallest_set(tree: Branches, offer: Offer, *, tapers: bool = True) -> list[int] | None:
    """Place of the size of each section; None where no set keeps the limit.

    Args:
        tree: Who feeds whom.
        offer: What each section may be made of.
        tapers: No section may be narrower than one that continues from it.

    >>> straight = Branches((1,), (METER,), (1.0,), (0.0,), (0.0,), (0,))
    >>> smallest_set(straight, Offer([[150.0, 90.0, 10.0]], [[1, 2, 3]], [0.0], 100.0))
    [1]
    """
    found = _search(_Task(tree, offer, STEPS, tapers)) or _search(_Task(tree, offer, None, tapers))
    return None if found is None else _trimmed(tree, offer, found, tapers=tapers)


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


def narrower_than_behind(tree: Branches, sizes: Sequence[int]) -> list[int]:
    """Places of the sections that are narrower than one that continues from them."""
    return sorted(
        {
            feeder
            for place, feeder in enumerate(tree.feeders)
            if feeder != METER and sizes[feeder] < sizes[place]
        }
    )


@dataclass(frozen=True)
class _Task:
    """What is looked for: `steps` sizes at most of each section, or all of them."""

    tree: Branches
    offer: Offer
    steps: int | None
    tapers: bool

    @cached_property
    def most(self) -> float:
        """No way behind a section may need more: what the limit and all rises together give."""
        return self.offer.limit + math.fsum(gain for gain in self.offer.gain if gain > 0)


def _search(task: _Task) -> list[int] | None:
    """Best choices of every section, from the last towards the meter."""
    tree = task.tree
    # Of each section, by the largest size that it may have: its choices that nothing beats.
    best: dict[int, list[list[Choice]]] = {}
    children: dict[int, list[int]] = {}
    for place in tree.order:
        children.setdefault(tree.feeders[place], []).append(place)
    for place in reversed(tree.order):
        best[place] = _of_section(place, [best[child] for child in children.get(place, [])], task)
        if not best[place][-1]:
            return None
    whole = [
        way
        for way in _together([best[place][-1] for place in children[METER]])
        if way[0] <= task.offer.limit
    ]
    if not whole:
        return None
    sizes = [0] * len(tree.rows)
    waiting = list(min(whole, key=lambda way: way[1])[2])
    while waiting:
        choice = waiting.pop()
        sizes[choice.place] = choice.size
        waiting.extend(choice.behind)
    return sizes


def _of_section(
    place: int, behind: Sequence[Sequence[list[Choice]]], task: _Task
) -> list[list[Choice]]:
    """Choices of a section and all behind it, by the largest size that it may have."""
    offer, count, most = task.offer, len(task.offer.friction[place]), task.most
    narrowest = max((_first_held(choices) for choices in behind), default=0) if task.tapers else 0
    able = [
        (size, lost - offer.gain[place])
        for size, lost in enumerate(offer.friction[place])
        if lost is not None and lost - offer.gain[place] <= most and size >= narrowest
    ][: task.steps]
    is_end = bool(task.tree.heat[place] or task.tree.volume[place])
    upto: list[list[Choice]] = [[] for _ in range(count)]
    ways: list[Way] = []
    for size, lost in able:
        if task.tapers or not ways:
            ways = _together([choices[size if task.tapers else -1] for choices in behind])
            if is_end:
                ways = _unbeaten([(max(need, 0.0), tube, way) for need, tube, way in ways])
        upto[size] = [
            Choice(need + lost, tube + offer.tube[place][size], place, size, way)
            for need, tube, way in ways
            if need + lost <= most
        ]
    for size in range(1, count):
        # The same list where nothing is added, so that whoever asks for both sees it is.
        upto[size] = _unbeaten(upto[size] + upto[size - 1]) if upto[size] else upto[size - 1]
    return upto


def _first_held(choices: Sequence[list[Choice]]) -> int:
    """Smallest size with which a section can do at all."""
    return next((size for size, held in enumerate(choices) if held), 0)


Way = tuple[float, float, tuple["Choice", ...]]  # need, tube, choice of each section


def _together(sections: Sequence[list[Choice]]) -> list[Way]:
    """Choices for several sections that continue from one point: needs side by side, tube added."""
    ways: list[Way] = [(float("-inf"), 0.0, ())]
    for options in sections:
        # Both lists run from least need to greatest, so that one walk along both is enough.
        merged: list[Way] = []
        left, right = 0, 0
        while left < len(ways) and right < len(options):
            need, tube, way = ways[left]
            option = options[right]
            merged.append((max(need, option.need), tube + option.tube, (*way, option)))
            next_left = ways[left + 1][0] if left + 1 < len(ways) else float("inf")
            next_right = options[right + 1].need if right + 1 < len(options) else float("inf")
            if next_left <= next_right:
                left += 1
            else:
                right += 1
        ways = _unbeaten(merged)
    return ways


def _unbeaten(ways: list[Any]) -> list[Any]:
    """Those with less tube than every one of less need, least need first; not too many of them."""
    kept: list[Any] = []
    for way in sorted(ways, key=NEED_AND_TUBE):
        if not kept or way[1] < kept[-1][1]:
            kept.append(way)
    if len(kept) <= KEPT:
        return kept
    width = (kept[-1][0] - kept[0][0]) / (KEPT - 1)
    # Of choices that lie close together, the one with the least tube.
    binned = {int((way[0] - kept[0][0]) / width) if width else 0: way for way in kept[1:]}
    return [kept[0], *binned.values()]


def _trimmed(tree: Branches, offer: Offer, sizes: list[int], *, tapers: bool) -> list[int]:
    """Take one size off wherever that still keeps the limit, the most tube saved first."""
    while True:
        savings = []
        for place, size in enumerate(sizes):
            if size and offer.friction[place][size - 1] is not None:
                tried = [*sizes[:place], size - 1, *sizes[place + 1 :]]
                if tapers and narrower_than_behind(tree, tried):
                    continue
                if worst_of(tree, offer, tried) <= offer.limit:
                    saved = offer.tube[place][size] - offer.tube[place][size - 1]
                    savings.append((saved, -place, tried))
        if not savings:
            return sizes
        sizes = max(savings)[2]
