"""An answer held against the key: right, or wrong with the slip that leads to it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from calcs.engine.errors import Refusal
from calcs.engine.rounding import round_half_up
from calcs.engine.units import Quantity, parse_unit, read_quantity, unit_text
from calcs.practice import choices, draw
from calcs.practice.draw import Question
from calcs.practice.figures import NO_BREAK_SPACE
from calcs.practice.made import written_out
from calcs.practice.pack import Pack

LAST_DIGITS = 1e-9
UNIT = "unit_other"  # the number is right, in a unit that is not that of the instrument


def mark(found: Question, given: Mapping[str, Any], pack: Pack) -> dict[str, Any]:
    """What is to be said to an answer.

    Args:
        found: The question.
        given: `text` and `unit` of a number, `chosen` places, or `order` of ids.
        pack: For what slips lead to, and the right working.

    Returns:
        `right`; or else `refused`, where it could not be read. `slips` by name and in words,
        `unsafe` where a choice would hurt, `said` and `answer` in words, and the right `working`,
        or a `sum` in figures where no calculator has one.
    """
    if found.asks in {"number", "read"}:
        return _number(found, given, pack)
    if found.asks == "order":
        return _order(found, [str(each) for each in given["order"]])
    if found.asks == "verdict":
        return _verdict(found, str(given["chosen"][0]), pack)
    return _chosen(found, [int(each) for each in given["chosen"]], pack)


def _number(found: Question, given: Mapping[str, Any], pack: Pack) -> dict[str, Any]:
    unit = found.unit or ""
    has_unit = given.get("unit") or any(each.isalpha() for each in str(given["text"]))
    if found.asks == "read" and unit and not has_unit:
        return {"refused": "What you read has a unit. Choose it, or type it behind the number."}
    try:
        typed = read_quantity("answer", str(given["text"]), str(given.get("unit") or unit), (unit,))
    except Refusal as refusal:
        refused = refusal.as_json({"answer": "Your answer"})
        return {"refused": refused.get("plain") or refused["message"]}
    value = float(typed.to(parse_unit(unit)).magnitude)
    said = f"{given['text']}".strip()
    if unit and not any(each.isalpha() for each in said):
        said = f"{said}{NO_BREAK_SPACE}{unit_text(str(given.get('unit') or unit))}"
    told: dict[str, Any] = {"said": said, "answer": found.text, "working": _working(found, pack)}
    told["sum"] = _sum(found)
    if abs(value - found.right) <= wide(found):
        return {"right": True, **told}
    made = [
        (name, one)
        for name, one in draw.wrong_numbers(found, pack)
        if abs(value - one.value) <= wide_of_slip(found, one.value)
    ]
    yours = next((one.given for _, one in made if one.given), None)
    names = [name for name, _ in made]
    if found.asks == "read" and abs(float(typed.magnitude) - found.right) <= wide(found):
        names.insert(0, UNIT)
    return {
        "right": False,
        **told,
        "slips": _named(names, pack),
        "yours": _working(found, pack, yours) if yours else None,
    }


def wide(found: Question) -> float:
    """How far from the right number an answer may lie, with what it was rounded by."""
    return found.tolerance * (1 + LAST_DIGITS) + _half_of_last(found)


def wide_of_slip(found: Question, value: float) -> float:
    """The same for what a slip leads to."""
    return max(_share(found) * abs(value), _half_of_last(found))


def _share(found: Question) -> float:
    return found.tolerance / abs(found.right) if found.right else 0.0


def _half_of_last(found: Question) -> float:
    """Half of the last figure of the answer as it is shown: so far off is what was rounded so."""
    number = found.text.replace(NO_BREAK_SPACE, " ").partition(" ")[0].rstrip("°")
    places = len(number.partition(".")[2])
    return float(0.5 * 10**-places) * (1 + LAST_DIGITS)


def _sum(found: Question) -> str:
    """The sum in figures, where no calculator has a working for it."""
    made, makes = str(found.template["answer"].get("made", "")), found.template.get("make", {})
    drawn = {part for each in found.template.get("drawn", ()) for part in each.values()}
    seen = [each for each in makes if each in drawn or f"{{{each}}}" in found.template["stem"]]
    written = written_out(made, makes, found.said, seen)
    return f"{written} = {found.text}" if written else ""


def _working(
    found: Question, pack: Pack, other: Mapping[str, Any] | None = None
) -> list[dict[str, str]]:
    """The calculator's working as far as the answer that is asked for."""
    answer = found.template["answer"]
    if "calculator" not in answer:
        return []
    given, values = (other["with"], other["values"]) if other else (answer["with"], found.values)
    reply = pack.answers(answer["calculator"], given, values, whole=True) or {"working": []}
    return [
        {key: line[key] for key in ("name", "label", "symbols", "numbers", "result")}
        for line in leading(reply["working"], answer["output"])
    ]


def leading(working: Sequence[Mapping[str, str]], asked: str) -> list[Mapping[str, str]]:
    """The lines of a working that lead to an answer, and that of the answer itself."""
    found: list[Mapping[str, str]] = []
    labels = {line["label"] for line in working}
    needed: set[str] = set()
    for line in reversed(working):
        if line["name"] == asked or line["label"] in needed:
            found.insert(0, line)
            needed |= _labels_in(line["symbols"], labels)
    return found


def _labels_in(symbols: str, labels: Iterable[str]) -> set[str]:
    """Which labels stand in a line, each whole: one may begin as another does.

    >>> sorted(_labels_in("CO × Air, as shown", ["Air", "Air, as shown", "CO"]))
    ['Air, as shown', 'CO']
    """
    found = set()
    for label in sorted(labels, key=len, reverse=True):
        if label in symbols:
            found.add(label)
            symbols = symbols.replace(label, "")
    return found


def _named(names: Sequence[str], pack: Pack) -> list[dict[str, str]]:
    """The slips, each once, in words."""
    return [{"name": name, "say": pack.slips[name]} for name in dict.fromkeys(names)]


def _verdict(found: Question, chosen: str, pack: Pack) -> dict[str, Any]:
    answer = found.template["answer"]
    reply = pack.answers(answer["calculator"], answer["with"], found.values) or {"verdicts": []}
    verdict = next(each for each in reply["verdicts"] if each["name"] == answer["verdict"])
    is_right = chosen == found.right
    # To pass what does not pass, or can't be told, leaves a danger on.
    is_unsafe = chosen == "meets" and not is_right and found.template.get("safety") == "yes"
    slip = _slip_of_verdict(found, chosen)
    return {
        "right": is_right,
        "said": choices.OUTCOMES[chosen],
        "answer": choices.OUTCOMES[found.right],
        "because": verdict["text"],
        "slips": _named([slip] if slip and not is_right else [], pack),
        "unsafe": is_unsafe,
        "working": [],
    }


def _slip_of_verdict(found: Question, chosen: str) -> str | None:
    if found.right == "cannot_tell":
        return "as_it_reads"
    if chosen == "cannot_tell":
        return "doubt_too_wide"
    if chosen == "meets":
        return None
    named: str | None = next(iter(found.template.get("slips", ())), None)
    return named


def _chosen(found: Question, chosen: Sequence[int], pack: Pack) -> dict[str, Any]:
    wrong = [one for place, one in enumerate(found.items) if (place in chosen) != one["right"]]
    taken = [one for one in wrong if not one["right"]]
    rights = [one for one in found.items if one["right"]]
    return {
        "right": not wrong,
        "said": [found.items[place]["text"] for place in chosen],
        "answer": [one["text"] for one in rights],
        "because": next((one["why"] for one in rights if one.get("why")), ""),
        "because_not": [
            {"text": one["text"], "why": one.get("not", "")} for one in taken if one.get("not")
        ],
        "missed": [one["text"] for one in wrong if one["right"]],
        "slips": _named([one["slip"] for one in taken if "slip" in one], pack),
        "unsafe": any(one.get("unsafe") == "yes" for one in taken),
        "working": [],
    }


def _order(found: Question, order: Sequence[str]) -> dict[str, Any]:
    if sorted(order) != sorted(one["id"] for one in found.items):
        return {"refused": "Put each of the steps in its place, once."}
    pairs = choices.broken(found.template["order"]["pairs"], order)
    texts = {one["id"]: one["text"] for one in found.items}
    return {
        "right": not pairs,
        "said": [texts[each] for each in order],
        "answer": [one["text"] for one in found.template["order"]["steps"]],
        "broken": [
            {"first": texts[each["first"]], "then": texts[each["then"]], "why": each["why"]}
            for each in pairs
        ],
        "slips": [],
        "unsafe": any(each.get("unsafe") == "yes" for each in pairs),
        "working": [],
    }


def shown_number(found: Question) -> str:
    """The right answer as one types it, for a worked example and for tests."""
    number = found.text.replace(NO_BREAK_SPACE, " ").partition(" ")[0]
    return number or round_half_up(found.right, 3)


def in_unit(found: Question, unit: str) -> float:
    """The right answer in another unit."""
    value = Quantity(float(found.right), parse_unit(found.unit))
    return float(value.to(parse_unit(unit)).magnitude)
