"""Papers picked a second time, from the published algorithms and nothing of `calcs`.

FNV-1a is written from RFC 9923, PCG32 from the paper of its author (HMC-CS-2014-0905, section
6.3.1): the state goes on by a multiplier, and its upper bits are shifted and turned. What a paper
takes is written from the words at the head of `calcs/practice/papers.py`, in another way: each
question of a topic is looked at alone, and asked if enough better ones are there.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import cache
from typing import Any

MASK_32, MASK_64 = 0xFFFFFFFF, 0xFFFFFFFFFFFFFFFF


def fnv(text: str) -> int:
    """The hash of a text."""
    value = 14695981039346656037
    for octet in bytearray(text, "utf-8"):
        value = (value ^ octet) * 1099511628211 & MASK_64
    return value


def words(seed: int) -> Iterator[int]:
    """What the generator gives, without end: stream 54, as all of it is here."""
    increment = 54 * 2 + 1
    state = increment  # after one step from nothing
    state = (state + seed) & MASK_64
    state = (state * 6364136223846793005 + increment) & MASK_64
    while True:
        shifted = ((state ^ (state >> 18)) >> 27) & MASK_32
        turn = state >> 59
        yield ((shifted >> turn) | (shifted << (32 - turn) % 32)) & MASK_32
        state = (state * 6364136223846793005 + increment) & MASK_64


@cache
def place(seed: str, name: str) -> tuple[int, str]:
    """The rank of a template, as one number of 64 bits."""
    given = words(fnv(seed + "/rank/" + name))
    return next(given) * 2**32 + next(given), name


def paper(mix: list[Mapping[str, Any]], templates: Mapping[str, Any], seed: str) -> list[str]:
    """The questions of a paper."""
    chosen = []
    for part in mix:
        among = {
            name: place(seed, name)
            for name, each in templates.items()
            if each["topic"] in part["topics"]
            and ("safety" not in part or each.get("safety") == "yes")
        }
        needed = {
            name
            for name in among
            for kind, least in part.get("at_least", {}).items()
            if templates[name]["asks"] == kind and better(name, among, templates, kind) < int(least)
        }
        room = int(part["questions"]) - len(needed)
        free = {name: at for name, at in among.items() if name not in needed}
        chosen += needed
        chosen += [name for name in free if sum(at < free[name] for at in free.values()) < room]
    return sorted(chosen, key=lambda name: place(seed, name))


def better(name: str, among: Mapping[str, Any], templates: Mapping[str, Any], kind: str) -> int:
    """How many of the same kind come before a question."""
    return sum(
        1 for other in among if templates[other]["asks"] == kind and among[other] < among[name]
    )


def first_figures(template: Mapping[str, Any], name: str, seed: str) -> dict[str, str]:
    """The figures of the first draw of a template, on their step."""
    given = words(fnv(f"{seed}/{name}/0"))
    found = {}
    for figure, how in template.get("draw", {}).items():
        if "choose" in how:
            found[figure] = str(how["choose"][uniform(given, len(how["choose"]))])
            continue
        (low, unit), (high, _), (step, _) = (
            (*how[key].split(" "), "")[:2] for key in ("from", "to", "step")
        )
        steps = int((Decimal(high) - Decimal(low)) / Decimal(step)) + 1
        value = Decimal(low) + uniform(given, steps) * Decimal(step)
        found[figure] = f"{value:f} {unit}".strip()
    return found


def uniform(given: Iterator[int], count: int) -> int:
    """One of so many, each as likely: the lowest words, which do not divide evenly, are left."""
    while (word := next(given)) < 2**32 % count:
        pass
    return word % count
