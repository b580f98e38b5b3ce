"""What is asked in an exported paper, and how it is marked, whatever the form."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from calcs.engine.units import Quantity, parse_unit, unit_text
from calcs.practice import draw, marking, paper_marks
from calcs.practice.draw import Question
from calcs.practice.integers import Integers, hash_of
from calcs.practice.pack import Pack
from calcs.practice.put import NUMBERS, also, drawn, put, why, worked

FIGURES = 10  # of a number: more than any answer has
PAIRS = 4  # of an order that are asked for
LEAST_LURES = 2
UNSAFE = "Done on an appliance, this could hurt someone."
PAIR_STEM = "Which of these stand the right way round?"


@dataclass(frozen=True)
class Choice:
    """One of several to choose.

    Args:
        text: What it says.
        right: Whether it is to be chosen.
        feedback: What is said to whoever chose it.
    """

    text: str
    right: bool
    feedback: str = ""


@dataclass(frozen=True)
class Slip:
    """A wrong number that is recognised.

    Args:
        value: The number, in the unit of the right one.
        tolerance: How far off it is still that.
        feedback: What somebody did who found it.
        marks: What the method is worth all the same.
    """

    value: str
    tolerance: str
    feedback: str
    marks: int


@dataclass(frozen=True)
class Item:
    """One question of an exported paper.

    Args:
        id: `q01_gas_rate_net`.
        title: In words.
        stem: What is asked.
        marks: What it is worth.
        feedback: The answer and the way to it, in lines.
        value: The right number; empty where something is chosen.
        tolerance: How far off it may be.
        unit: Its unit, as it is written for a reader; empty where it has none.
        units: Each unit that may be typed, with how much of it one of the right unit is.
        slips: Wrong numbers that are recognised.
        choices: What may be chosen.
        picture: An instrument to read, as SVG; empty where there is none.
        picture_words: The same in words.
    """

    id: str
    title: str
    stem: str
    marks: int
    feedback: tuple[str, ...]
    value: str = ""
    tolerance: str = ""
    unit: str = ""
    units: tuple[tuple[str, str], ...] = ()
    slips: tuple[Slip, ...] = ()
    choices: tuple[Choice, ...] = ()
    picture: str = ""
    picture_words: str = ""

    @property
    def is_several(self) -> bool:
        """Whether more than one may be chosen."""
        return bool(self.choices) and (
            self.marks > 1 or len([c for c in self.choices if c.right]) > 1
        )


def items(found: Sequence[Question], pack: Pack, *, as_choices: bool = False) -> list[Item]:
    """The questions of a paper.

    Args:
        found: As they were drawn.
        pack: What they were drawn from.
        as_choices: Whether a number is one choice among those that slips lead to.
    """
    return [
        _with_picture(_item(number, each, pack, as_choices=as_choices), each)
        for number, each in enumerate(found, start=1)
    ]


def _item(number: int, found: Question, pack: Pack, *, as_choices: bool) -> Item:
    shown = put(found)
    of = paper_marks.worth(found, pack)
    about = (f"q{number:02}_{found.id}", shown["title"])
    feedback = tuple(_feedback(found, pack))
    if found.asks == "order":
        stem = f"{shown['stem']} {PAIR_STEM}"
        return Item(*about, stem, of, feedback, choices=tuple(_pairs(found)))
    if found.asks not in NUMBERS:
        return Item(*about, shown["stem"], of, feedback, choices=tuple(_choices(found, pack)))
    slips = tuple(_slips(found, pack))
    lures = tuple(_lures(found, slips)) if as_choices else ()
    if len(lures) >= LEAST_LURES:
        rights = (Choice(found.text, right=True), *lures)
        integers = Integers(hash_of(f"{found.seed}/{found.id}/twin"))
        return Item(*about, shown["stem"], 1, feedback, choices=tuple(integers.shuffled(rights)))
    return Item(
        *about,
        shown["stem"],
        of,
        feedback,
        value=decimal(found.right),
        tolerance=decimal(marking.wide(found)),
        unit=unit_text(found.unit) if found.unit else "",
        units=tuple(_units(found)),
        slips=slips,
    )


def _with_picture(item: Item, found: Question) -> Item:
    drawing = drawn(found, solved=False).get("drawing")
    if not drawing:
        return item
    return replace(item, picture=drawing["svg"], picture_words=drawing["words"])


def decimal(value: float) -> str:
    """A number without an exponent.

    >>> decimal(2.5e-07), decimal(21.540000000000003)
    ('0.00000025', '21.54')
    """
    return f"{Decimal(f'{value:.{FIGURES}g}'):f}"


def _units(found: Question) -> Iterator[tuple[str, str]]:
    """The unit of the answer first, then what else it may be typed in."""
    if not found.unit:
        return
    one = Quantity(1.0, parse_unit(found.unit))
    for unit in (found.unit, *also(found.unit)):
        yield unit_text(unit), decimal(float(one.to(parse_unit(unit)).magnitude))


def _slips(found: Question, pack: Pack) -> Iterator[Slip]:
    """Each number that a slip leads to, once. Slips that can't be told apart are told together."""
    made = draw.wrong_numbers(found, pack)
    seen: list[float] = []
    for _, one in made:
        wide = marking.wide_of_slip(found, one.value)
        if any(abs(one.value - other) <= wide for other in seen):
            continue
        seen.append(one.value)
        names = dict.fromkeys(name for name, each in made if abs(each.value - one.value) <= wide)
        text = _told([pack.slips[name] for name in names])
        given = {"text": f"{one.value:.15f}", "unit": found.unit}
        marks = paper_marks.marked(found, given, pack)["marks"]
        yield Slip(decimal(one.value), decimal(wide), text, marks)


def _told(did: Sequence[str]) -> str:
    """What somebody did, in a sentence; several that can't be told apart in one."""
    said = ", or ".join(f"you {each}" for each in did)
    return f"Either {said}." if len(did) > 1 else f"Y{said[1:]}."


def _lures(found: Question, slips: Sequence[Slip]) -> Iterator[Choice]:
    """What slips lead to, with as many figures as the right answer."""
    number, _, unit = found.text.replace("\N{NO-BREAK SPACE}", " ").partition(" ")
    taken = {number}
    for slip in slips:
        text = _like(slip.value, number)
        if text not in taken:
            taken.add(text)
            shown = f"{text}\N{NO-BREAK SPACE}{unit}" if unit else text
            yield Choice(shown, right=False, feedback=slip.feedback)


def _like(value: str, number: str) -> str:
    """A number with as many significant figures as another."""
    figures = len(number.strip("-\N{MINUS SIGN}").replace(".", "").lstrip("0")) or 1
    return f"{Decimal(f'{Decimal(value):.{max(1, figures)}g}'):f}"


def _choices(found: Question, pack: Pack) -> Iterator[Choice]:
    for one in found.items:
        if found.asks == "verdict":
            yield _judged(found, one, pack)
        else:
            words = [str(one.get("not", "")), UNSAFE if one.get("unsafe") == "yes" else ""]
            yield Choice(one["text"], right=one["right"], feedback=" ".join(filter(None, words)))


def _judged(found: Question, one: Mapping[str, Any], pack: Pack) -> Choice:
    """One way in which a reading may stand, with what is said to whoever took it for that."""
    told = marking.mark(found, {"chosen": [one["id"]]}, pack)
    did = [each["say"] for each in told["slips"]]
    words = [_told(did) if did else "", UNSAFE if told["unsafe"] else ""]
    return Choice(one["text"], right=told["right"], feedback=" ".join(filter(None, words)))


def _pairs(found: Question) -> Iterator[Choice]:
    """Some pairs of an order, about half of them turned round."""
    order: Mapping[str, Any] = found.template["order"]
    texts = {one["id"]: str(one["text"]).rstrip(".") for one in order["steps"]}
    integers = Integers(hash_of(f"{found.seed}/{found.id}/pairs"))
    pairs = integers.shuffled(order["pairs"])[:PAIRS]
    for number, each in integers.shuffled(list(enumerate(pairs))):
        is_right = number % 2 == 0
        first, then = (each["first"], each["then"])[:: 1 if is_right else -1]
        yield Choice(f"{texts[first]}. Then: {texts[then]}.", is_right, str(each["why"]))


def _feedback(found: Question, pack: Pack) -> Iterator[str]:
    right = worked(found, pack)
    answers = right["answer"]
    yield from ([f"Right: {answers}"] if isinstance(answers, str) else answers)
    for line in right["working"] or ():
        yield f"{line['label']} = {line['symbols']} = {line['numbers']} = {line['result']}"
    if right["sum"]:
        yield str(right["sum"])
    reason = why(found)
    if found.asks == "verdict":  # how it was judged is its working, and the reason comes after it
        yield from filter(None, (right["because"], reason and f"Why: {reason}"))
    elif right["because"] or reason:
        yield str(right["because"] or reason)
