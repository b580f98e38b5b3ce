"""Which questions a paper has: picked by a rank that the seed gives to each template.

The rank of a template follows from the seed and its own id alone. So a template that is added takes
the place of one other at most, and the rest of the paper stays as it was. Each part of a paper
takes what it needs of a kind first, and then the best of what is left of its topics.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from math import ceil
from typing import Any

from calcs.practice.draw import Question, question
from calcs.practice.integers import Integers, hash_of
from calcs.practice.pack import Pack

SEED = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
# Signs of a candidate's seed. None looks like another when it is written by hand.
SIGNS = "abcdefghjkmnpqrstuvwxyz23456789"
LENGTH = 6
MOST = 60  # candidates of one class


class NotASeed(Exception):
    """What was typed can't be a seed."""


class NotFilled(Exception):
    """There are too few questions for a paper."""


def seed_of(typed: object) -> str:
    """A seed as it is used: capitals and spaces around it do not count.

    Raises:
        NotASeed: It has other signs, or too many.
    """
    seed = str(typed).strip().lower()
    if not SEED.fullmatch(seed):
        raise NotASeed("A seed has letters, digits and hyphens, 40 at most.")
    return seed


def rank(seed: str, name: str) -> tuple[int, int, str]:
    """Where a template stands among all of them: the lowest comes first."""
    integers = Integers(hash_of(f"{seed}/rank/{name}"))
    return integers.word(), integers.word(), name


def picked(mix: Sequence[Mapping[str, Any]], questions: Mapping[str, Any], seed: str) -> list[str]:
    """The templates of a paper, in the order in which they are asked.

    Args:
        mix: The parts of the paper.
        questions: Every template, by id.
        seed: What the paper is drawn by.

    Raises:
        NotFilled: A part asks for more than there are.
    """
    ranks: dict[str, tuple[int, int, str]] = {}
    found: list[str] = []
    for part in mix:
        among = {name: rank(seed, name) for name in fitting(part, questions)}
        found += _of_part(part, sorted(among, key=among.__getitem__), questions)
        ranks |= among
    return sorted(found, key=ranks.__getitem__)


def drawn(paper: Mapping[str, Any], seed: str, pack: Pack) -> list[Question]:
    """The questions of a paper, in order."""
    return [question(pack, name, seed) for name in picked(paper["mix"], pack.questions, seed)]


def fitting(part: Mapping[str, Any], questions: Mapping[str, Any]) -> Iterator[str]:
    """The templates that a part may take."""
    for name, template in questions.items():
        is_asked = part.get("safety") != "yes" or template.get("safety") == "yes"
        if template["topic"] in part["topics"] and is_asked:
            yield name


def _of_part(
    part: Mapping[str, Any], ranked: Sequence[str], questions: Mapping[str, Any]
) -> list[str]:
    found: list[str] = []
    for kind, least in part.get("at_least", {}).items():
        of_kind = [name for name in ranked if questions[name]["asks"] == kind]
        found += of_kind[: int(least)]
        if len(of_kind) < int(least):
            raise NotFilled(f"{least} of the kind {kind}, and there are {len(of_kind)}")
    rest = [name for name in ranked if name not in found]
    found += rest[: int(part["questions"]) - len(found)]
    if len(found) != int(part["questions"]):
        raise NotFilled(f"{part['questions']} of {', '.join(part['topics'])}, not {len(found)}")
    return found


def class_seeds(first: str, count: int) -> list[str]:
    """A seed for each candidate of a class, from one that the tutor keeps.

    A larger class has the same seeds first, so nobody's paper changes when somebody joins.

    >>> class_seeds("week-9", 3) == class_seeds("week-9", 4)[:3]
    True
    """
    found: list[str] = []
    integers = Integers(hash_of(f"{first}/class"))
    while len(found) < min(count, MOST):
        seed = "".join(integers.choose(SIGNS) for _ in range(LENGTH))
        if seed not in found:
            found.append(seed)
    return found


def marks_to_pass(paper: Mapping[str, Any], total: int) -> int:
    """How many marks reach the pass mark of a paper."""
    return ceil(total * int(paper["pass"]["percent"]) / 100)
