"""Figures that the reader gives from their own copy of a source, in place of those held here."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from datetime import date
from functools import lru_cache
from typing import Any

from calcs.engine.declarations import Calculator, Input
from calcs.engine.errors import Refusal
from calcs.engine.reference import Reference
from calcs.engine.registry import all_inputs
from calcs.engine.request_errors import NotASensibleFigure, NotWhole, UnknownFigure, WrongForm
from calcs.engine.request_form import kind_of, text_of
from calcs.engine.rounding import short_number
from calcs.engine.traced import si
from calcs.engine.typed_number import number_at_start, without_commas
from calcs.engine.typed_rows import DROP, typed_rows
from calcs.engine.units import (
    is_scale,
    join_unit,
    parse_quantity,
    read_quantity,
    unit_code,
    unit_text,
)

# One edition differs from the next by less. A figure that is further off is a slip, and a verdict
# would pass by it what nothing permits.
TIMES = 2
COUNT = "count"
NUMBERS = ("number", COUNT)  # kinds of figure without a unit; an edition or a word is none
TINY = 1e-9  # the last digits of a conversion


def read_overrides(
    calculator: Calculator | None, reference: Reference, given: Any, on: date
) -> tuple[dict[str, Any], list[Refusal]]:
    """The figures that can be used, as data/ writes its own, and why the others cannot.

    Args:
        calculator: What is asked; None where any figure may be used.
        reference: All that is held.
        given: Text of each figure by its name, or of a table its rows, each a list of cells.
        on: Day of the test.
    """
    if given is None:
        return {}, []
    if not isinstance(given, dict):
        return {}, [WrongForm("overrides", found=kind_of(given), expected="figures by name")]
    found: dict[str, Any] = {}
    refusals: list[Refusal] = []
    used = used_by(calculator) if calculator else re.compile(".+")
    for name, entered in given.items():
        try:
            if name not in reference.names:
                near = difflib.get_close_matches(name, reference.names, n=1)
                raise UnknownFigure(name, nearest=f" Did you mean {near[0]}?" if near else "")
            if not used.fullmatch(name):
                raise UnknownFigure(name, is_unused=True)
            is_table = isinstance(entered, list) and "columns" in reference.facts(name)
            found[name] = (
                typed_rows(name, entered, reference)
                if is_table
                else _figure(name, entered, reference, on)
            )
        except Refusal as refusal:
            refusals.append(refusal)
    return found, refusals


@lru_cache
def used_by(calculator: Calculator) -> re.Pattern[str]:
    """Names of the figures that a calculator may look up; `*` and `{gas}` are any word."""
    defaults = [
        column.default
        for item in all_inputs(calculator)
        for column in (item, *getattr(item, "columns", ()))
        if isinstance(column, Input) and column.default
    ]
    names = [re.sub(r"\{\w+\}", "*", name) for name in (*calculator.uses, *defaults)]
    return re.compile("|".join(re.escape(name).replace(r"\*", r"[^.]+") for name in names) or "$.")


def _figure(name: str, entered: Any, reference: Reference, on: date) -> str:
    """One figure as data/ writes its own: number, space, unit.

    Raises:
        NotASensibleFigure: It could not stand in place of the one that is held.
        WrongForm: It is neither text nor number.
        NotANumber: No plain number stands at its start.
        NotWhole: It is a count, and has a fraction.
        WrongUnit: Its unit is of another kind than the held one's.
    """
    unit = _unit(name, reference)
    if unit is None or name.startswith("decision."):
        raise NotASensibleFigure(name, told="{this} is no figure that can be typed.")
    text = text_of(name, entered)
    value = read_quantity(name, text, unit, (unit,))
    if reference.facts(name).get("kind") == COUNT and not float(value.magnitude).is_integer():
        raise NotWhole(name, found=short_number(float(value.magnitude), 9))
    _check_size(name, value, _held(name, reference))
    _check_range(name, value, reference)
    _check_bound(name, value, _in_force(name, reference, on), reference.facts(name).get("bound"))
    number = without_commas(number_at_start(text))
    return f"{number} {unit_code(value.units)}" if unit_code(value.units) else number


def _unit(name: str, reference: Reference) -> str | None:
    """Unit that a figure is in, empty for a plain number; None where none can be typed for it."""
    facts = reference.facts(name)
    if "columns" in facts:
        drops = (column["unit"] for column in facts["columns"] if column["name"] == DROP)
        return next(drops, None)
    if facts.get("unit"):
        return str(facts["unit"])
    return "" if facts.get("kind") in NUMBERS else None


def _held(name: str, reference: Reference) -> list[Any]:
    """What is held, now and before; of a table its column of drops."""
    dated_values = reference.history(name)
    texts = [dated_value.value for dated_value in dated_values if dated_value.value]
    if "columns" in reference.facts(name):
        place = reference.columns(name).index(DROP)
        texts += [row[place] for dated_value in dated_values for row in dated_value.rows or ()]
    return [parse_quantity(text) for text in texts if text]


def _in_force(name: str, reference: Reference, on: date) -> list[Any]:
    """What is held for the day of the test; where nothing is, what is held for any."""
    values = [one for one in reference.history(name) if one.value]
    dated = [one for one in values if one.in_force(on)]
    return [parse_quantity(one.value) for one in dated or values if one.value]


def _check_bound(name: str, value: Any, held: Sequence[Any], bound: str | None) -> None:
    """Refuse a bound that permits more than what is held for that day; a tighter one is theirs.

    What is "fixed" lies in the middle of what is permitted: neither way is the tighter one.
    """
    if bound is None or not held:
        return
    limit = max(held, key=si) if bound == "greatest" else min(held, key=si)
    past = si(value) - si(limit)
    if bound != "greatest":
        past = abs(past) if bound == "fixed" else -past
    if past > TINY * abs(si(limit)):
        shown = join_unit(short_number(float(limit.magnitude)), limit.units)
        raise NotASensibleFigure(
            name, told=f"{{this}} is {shown} here, and nothing is passed by a looser figure."
        )


def _check_range(name: str, value: Any, reference: Reference) -> None:
    """Refuse what can't be in the range that a held figure stands for.

    A calorific value below every one of the network would pass a burner that gets too much gas. The
    figure need not be in the middle of its range, so the whole width counts to either side.
    """
    held = reference.history(name)[-1]
    if held.value is None or held.half_width is None:
        return
    middle, half = parse_quantity(held.value), parse_quantity(held.half_width)
    width = 2 * (si(half) * si(middle) if str(half.units) == "percent" else si(half))
    if abs(si(value) - si(middle)) > width * (1 + TINY):
        shown = join_unit(short_number(float(middle.magnitude)), middle.units)
        raise NotASensibleFigure(
            name,
            told=f"{{this}} is {shown} here, and yours lies outside the range that it stands for. "
            "Check its unit.",
        )


def _check_size(name: str, value: Any, held: Sequence[Any]) -> None:
    """Refuse what no copy can have: a sign that the figure never has, or another order of size."""
    if is_scale(value.units) or not held:
        # Of a temperature nought means nothing. Where nothing is held, no figure can be below it.
        if not is_scale(value.units) and value.magnitude < 0:
            raise NotASensibleFigure(name, told="{this} cannot be below nought.")
        return
    number = float(value.magnitude)
    sizes = [float(one.to(value.units).magnitude) for one in held]
    if min(sizes) > 0 and number <= 0:
        raise NotASensibleFigure(name, told="{this} must be above nought.")
    if min(sizes) >= 0 and number < 0:
        raise NotASensibleFigure(name, told="{this} cannot be below nought.")
    nonzero = [abs(size) for size in sizes if size]
    if number and nonzero and not min(nonzero) / TIMES <= abs(number) <= max(nonzero) * TIMES:
        held_text = f"{max(sizes):.6g} {unit_text(value.units)}".strip()
        raise NotASensibleFigure(
            name,
            told=f"{{this}} is {held_text} here, and yours is more than {TIMES} times as much or "
            "as little. Check its unit.",
        )
