"""What may be chosen: the right ones among lures, or steps to put in order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from calcs.practice.figures import Values
from calcs.practice.integers import Integers

SHOWN = 4  # of which one is right; more would be reading and not deciding
MOST = 6  # where several may be right
LEAST_WRONG = 2  # pairs that the first order of a list breaks, so that there is something to do
OUTCOMES = {
    "meets": "It meets the limit",
    "does_not_meet": "It does not meet the limit",
    "cannot_tell": "It is too close to tell",
}


def items(
    template: Mapping[str, Any], case: Mapping[str, Any], said: Values, integers: Integers
) -> list[dict[str, Any]]:
    """What is shown, in the order in which it is shown.

    Each has its `text` and whether it is `right`. A lure may have the `slip` that leads to it, and
    whether it is `unsafe`; what is to be put in order has the id of its step.
    """
    if template["asks"] == "order":
        return _in_order(template["order"], integers)
    if "pool" in template:
        found = _with_figures(_from_pool(template["pool"], said, integers), said)
    else:
        right = case.get("right") or template["right"]
        lures = [*case.get("lures", ()), *template.get("lures", ())]
        rights = right if isinstance(right, list) else [right]
        # With their figures first: two that are written differently may come to the same.
        found = _among(_with_figures(rights, said), _with_figures(lures, said), integers)
    return found


def _with_figures(listed: Sequence[Any], said: Values) -> list[dict[str, Any]]:
    worded = ("text", "not")
    return [
        {**one, **{key: filled(one[key], said) for key in worded if key in one}} for one in listed
    ]


def _among(right: Sequence[Any], lures: Sequence[Any], integers: Integers) -> list[dict[str, Any]]:
    rights = [{**one, "right": True} for one in right]
    wrong = [{**one, "right": False} for one in _apart(lures, {one["text"] for one in rights})]
    most = SHOWN if len(rights) == 1 else MOST
    if len(rights) > 1:  # how many are right is not to be told by how many are shown
        keep = 2 + integers.below(len(rights) - 1)
        rights = integers.shuffled(rights)[:keep]
    return integers.shuffled([*rights, *integers.shuffled(wrong)[: max(1, most - len(rights))]])


def _apart(lures: Sequence[Any], taken: set[str]) -> list[Any]:
    """Lures that differ from the right ones and from each other."""
    found = []
    for lure in lures:
        if lure["text"] not in taken:
            taken.add(lure["text"])
            found.append(lure)
    return found


def _from_pool(pool: Mapping[str, Any], said: Values, integers: Integers) -> list[dict[str, Any]]:
    """One of many that are alike is asked for, and the others are its lures."""
    places = list(range(len(pool["items"])))
    place = integers.choose([each for each in places if "say" in pool["items"][each]])
    right = pool["items"][place]
    said["say"] = right["say"]
    near = sorted(places, key=lambda each: abs(each - place))[1 : pool.get("near", len(places))]
    others = [pool["items"][each] for each in integers.shuffled(near)]
    lures = _apart(others, {right["text"], right["say"]})[: SHOWN - 1]
    wrong = [{**one, "right": False} for one in lures]
    return integers.shuffled([{**right, "right": True}, *wrong])


def _in_order(order: Mapping[str, Any], integers: Integers) -> list[dict[str, Any]]:
    steps = list(order["steps"])
    while True:
        found: list[dict[str, Any]] = integers.shuffled(steps)
        if len(broken(order["pairs"], [one["id"] for one in found])) >= LEAST_WRONG:
            return found


def broken(pairs: Sequence[Mapping[str, Any]], order: Sequence[str]) -> list[Mapping[str, Any]]:
    """The pairs that an order breaks. What no pair ties may stand either way round."""
    places = {name: place for place, name in enumerate(order)}
    return [each for each in pairs if places[each["first"]] > places[each["then"]]]


def filled(text: str, said: Values) -> str:
    """A text with its figures."""
    for name, shown in said.items():
        text = text.replace(f"{{{name}}}", shown)
    return text
