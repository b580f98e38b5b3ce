"""What must hold of every question that a template can give, whatever the seed.

The test command tries a few seeds of each template, others for each. All two hundred take minutes:

    python -m tests.calcs.practice.proof [ID …]
"""

import math
import sys
from decimal import Decimal

from calcs.engine.units import parse_unit, same_kind
from calcs.practice import draw, marking
from calcs.practice import put as putting
from calcs.practice.draw import Question
from calcs.practice.figures import split
from calcs.practice.pack import Pack
from tests.calcs.practice.held import pack

SEEDS = 200
NUMBERS = {"number", "read"}


def prove(held: Pack, name: str, seed: str) -> Question:
    """One question, tried in every way. An assertion says what does not hold."""
    found = draw.question(held, name, seed)
    assert draw.question(held, name, seed) == found, "another question of the same seed"
    put = putting.put(found)
    assert "{" not in put["stem"], put["stem"]
    assert not any("{" in each["text"] for each in put["items"]), put["items"]
    assert marking.mark(found, putting.right_answer(found), held)["right"]
    if found.asks in NUMBERS:
        _drawn_on_step(found)
        _number(found, held)
    else:
        _choices(found, held)
    return found


def _drawn_on_step(found: Question) -> None:
    for name, how in found.template.get("draw", {}).items():
        if "step" in how:
            (low, unit), (high, _), (step, _) = (split(how[key]) for key in ("from", "to", "step"))
            value, its = split(found.values[name])
            assert its == unit
            assert low <= value <= high
            assert (value - low) % step == Decimal(0), f"{name} is between two steps"


def _number(found: Question, held: Pack) -> None:
    assert math.isfinite(found.right)
    assert found.tolerance > 0
    for unit in (found.unit, *putting.also(found.unit)):
        if unit:
            assert same_kind(parse_unit(unit), parse_unit(found.unit))
            given = {"text": f"{marking.in_unit(found, unit):.9g}", "unit": unit}
            if "e" not in given["text"]:
                assert marking.mark(found, given, held)["right"], given
    wide = found.tolerance * 1.02 + marking._half_of_last(found) * 1.02
    for far in (-1, 1):
        text = f"{found.right + far * wide:.12f}"
        assert not marking.mark(found, {"text": text, "unit": found.unit}, held)["right"], text
    seen = draw.wrong_numbers(found, held)
    assert {name for name, _ in seen} == {draw.slips.name_of(s) for s in _slips(found)}
    for name, one in seen:
        assert abs(one.value - found.right) > draw.CLEAR * found.tolerance
        told = marking.mark(found, {"text": f"{one.value:.15f}", "unit": found.unit}, held)
        assert not told["right"], f"the slip {name} is accepted"
        assert name in [each["name"] for each in told["slips"]], f"{name} is not recognised"


def _slips(found: Question) -> list[object]:
    return list(found.template.get("slips", ()))


def _choices(found: Question, held: Pack) -> None:
    texts = [each["text"] for each in found.items]
    assert len(texts) >= 3
    assert len(set(texts)) == len(texts), "two choices are the same"
    if found.asks == "verdict":
        wrong = [{"chosen": [each]} for each in draw.JUDGED if each != found.right]
    elif found.asks == "order":
        wrong = [{"order": [each["id"] for each in found.items]}]
    else:
        rights = [place for place, each in enumerate(found.items) if each["right"]]
        assert rights
        assert len(rights) < len(texts)
        wrong = [{"chosen": [place]} for place in range(len(texts)) if [place] != rights]
    for given in wrong:
        told = marking.mark(found, given, held)
        assert told["right"] is False, given
        assert all(each["say"] for each in told["slips"])


def main(names: list[str]) -> None:
    """Prove these templates, or all, with every seed."""
    held = pack()
    for name in names or sorted(held.questions):
        for seed in range(SEEDS):
            prove(held, name, str(seed))
        print(f"{name}: {SEEDS} seeds")  # noqa: T201  a person ran it


if __name__ == "__main__":
    main(sys.argv[1:])
