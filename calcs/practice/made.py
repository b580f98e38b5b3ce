"""Figures that follow from those drawn, each by a function that is named here."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from decimal import ROUND_FLOOR, Decimal
from typing import Any

from calcs.engine.traced_functions import square_root
from calcs.engine.units import Q, Quantity, parse_unit, step_of
from calcs.practice.figures import Values, join, on_step, quantity, split
from calcs.practice.pack import Pack

# Of figures in one unit: exact, on the step that they have.
EXACT: dict[str, Callable[[Sequence[Decimal]], Decimal]] = {
    "add": lambda given: sum(given, start=Decimal(0)),
    "subtract": lambda given: given[0] - sum(given[1:], start=Decimal(0)),
    "least": min,
    "greatest": max,
    "whole": lambda given: given[0].to_integral_value(ROUND_FLOOR),
    "remainder": lambda given: given[0] % given[1],
    # 2:05 on a watch, in seconds: run together to 205, and taken for 2.05 minutes.
    "clock_together": lambda given: given[0] // 60 * 100 + given[0] % 60,
    "clock_decimal": lambda given: given[0] // 60 * 60 + given[0] % 60 * Decimal("0.6"),
}


def _product(given: Sequence[Q]) -> Q:
    found = given[0]
    for each in given[1:]:
        found = found * each
    return found


def _quotient(given: Sequence[Q]) -> Q:
    return given[0] / _product(given[1:])


# Of any figures: rounded to the step of the figure that `like` names.
ROUNDED: dict[str, Callable[[Sequence[Q]], Q]] = {
    "multiply": _product,
    "divide": _quotient,
    "mean": lambda given: sum(given[1:], start=given[0]) / len(given),
    "over_all": lambda given: given[0] * given[1] / given[2],
    # How much gas passes: heat input, time, calorific value, and the ratio where the input is net.
    "volume_for": lambda given: _product([given[0], given[1], *given[3:]]) / given[2],
    # What pressure gives a share of the heat input: the flow goes by the root of the pressure.
    "by_square": lambda given: given[0] * given[1] * given[1],
    "by_root": lambda given: given[0] * square_root(given[1]),
}
# What stands between the figures where a sum is written out.
SIGNS = {"add": " + ", "subtract": " − ", "multiply": " × ", "divide": " ÷ "}
FIRST = "0123456789("  # signs that a figure or a sum begins with
CALCULATOR, FIGURE = "calculator", "figure"


def make(how: Mapping[str, Any], values: Values, pack: Pack, draws: Mapping[str, Any]) -> str:
    """One figure.

    Args:
        how: A function's name with the names of figures; `like`, whose step it is rounded to.
            Or a `calculator` and what it is given: its `output`, or how far off may be what its
            `verdict` judges.
        values: What was drawn and made before.
        pack: For what a calculator gives.
        draws: How the figures were drawn, which says their steps.
    """
    if FIGURE in how:  # in force: the build has put its value there
        return str(how[FIGURE])
    step = str(draws[how["like"]].get("step", values[how["like"]])) if "like" in how else ""
    if CALCULATOR in how:
        answer = pack.answers(how[CALCULATOR], how["with"], values)
        if answer is None:
            raise ValueError(f"{how[CALCULATOR]} refuses what was drawn")
        if "verdict" in how:  # how far off may be what it judges
            judged = next(each for each in answer["verdicts"] if each["name"] == how["verdict"])
            if not judged.get("scale"):
                raise ValueError(f"{how['verdict']} is not judged")
            scale = judged["scale"]  # on a thermometer's scale, how far off is a difference
            return on_step(Quantity(scale["expanded"], step_of(parse_unit(scale["unit"]))), step)
        found = next(each for each in answer["answers"] if each["name"] == how["output"])
        return on_step(quantity(f"{found['value']!r} {found['unit']}".strip()), step)
    name = next(key for key in how if key != "like")
    texts = [values[each] for each in how[name]]
    if name in EXACT:
        parts = [split(text) for text in texts]
        return join(EXACT[name]([number for number, _ in parts]), parts[0][1])
    return on_step(ROUNDED[name]([quantity(text) for text in texts]), step)


def written_out(
    name: str, makes: Mapping[str, Any], said: Values, seen: Collection[str] = ()
) -> str:
    """The sum that a figure was made by, in figures; empty where it was drawn or looked up.

    Args:
        name: Of the figure.
        makes: How each was made.
        said: Each as it is shown.
        seen: Those that are before the reader: they stand in the sum as they are.

    >>> said = {"plate": "9.0 mbar", "share": "3 %", "extra": "0.27 mbar"}
    >>> makes = {"extra": {"multiply": ["plate", "share"]}, "most": {"add": ["plate", "extra"]}}
    >>> written_out("most", makes, said)
    '9.0 mbar + (9.0 mbar × 3 %)'
    """
    how = makes.get(name, {})
    function = next((key for key in how if key != "like"), "")
    if function in {"", CALCULATOR, FIGURE}:
        return ""
    parts = [_part(each, makes, said, seen) for each in how[function]]
    if not all(part[0] in FIRST for part in parts):  # a word that stands for a figure
        return ""
    if function in SIGNS:
        return SIGNS[function].join(parts)
    if function == "mean":
        return f"({' + '.join(parts)}) ÷ {len(parts)}"
    if function == "over_all":
        return f"{parts[0]} × {parts[1]} ÷ {parts[2]}"
    if function == "by_square":
        return f"{parts[0]} × {parts[1]} × {parts[1]}"
    return f"{parts[0]} × √{parts[1]}" if function == "by_root" else ""


def _part(name: str, makes: Mapping[str, Any], said: Values, seen: Collection[str]) -> str:
    """A figure in a sum, or the sum that it was made by."""
    inner = "" if name in seen else written_out(name, makes, said, seen)
    if inner or said[name].startswith("\N{MINUS SIGN}"):
        return f"({inner or said[name]})"
    return said[name]
