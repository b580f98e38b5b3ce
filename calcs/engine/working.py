"""The working: each step in words, in numbers and as a result, read off the values computed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeAlias

from calcs.engine.declarations import Output
from calcs.engine.registry import label_of
from calcs.engine.rounding import decimals_of, round_half_up, short_number
from calcs.engine.traced import Traced
from calcs.engine.units import Q, Quantity, join_unit

# The same expression twice: in words and in numbers. One walk through the operations makes both.
Pair: TypeAlias = tuple[str, str]
Render: TypeAlias = Callable[[Traced, Traced], Pair]  # a value, and what it is called by
_STRENGTH = {"+": 1, "−": 1, "0−": 2, "×": 2, "÷": 2, "^": 3}
# a − (b − c) and a ÷ (b × c) need their brackets; a + (b + c) and a × (b × c) do not.
_ONE_SIDED = ("−", "÷")


def steps(
    results: Mapping[str, Any], outputs: tuple[Output, ...], labels: Mapping[str, str]
) -> list[dict[str, str]]:
    """One step for each quantity that the formula worked out.

    Args:
        results: What the formula returned, already named.
        outputs: Units and places of those that are answers.
        labels: Words for names.

    Returns:
        `name`, `label`, `symbols`, `numbers` and `result` of each step, in the formula's own order.
    """
    shown = {output.name: output for output in outputs}
    # The same quantities come up again and again. All are held by `results` while this runs, so an
    # id stays its own.
    written: dict[int, Pair] = {}

    def both(value: Traced, called: Traced) -> Pair:
        pair = written.get(id(value))
        if pair is None:
            name = called.name or ""
            is_as_typed = value.units == called.units
            places = called.typed_places if is_as_typed else 0
            figure = show(value, shown.get(name), role=called.role, places=places)
            word = label_of(labels, name, called.label) if name else called.label
            pair = written[id(value)] = word or figure, figure
        return pair

    found = []
    for name, value in results.items():
        if isinstance(value, Traced) and value.node is not None and not _only_a_name(value):
            symbols, numbers = _expression(value, both, top=True)
            found.append(
                {
                    "name": name,
                    "label": label_of(labels, name),
                    "symbols": symbols,
                    "numbers": numbers,
                    "result": both(value, value)[1],
                }
            )
    return found


def show(value: Q, output: Output | None = None, role: str = "result", places: int = 0) -> str:
    """A quantity as text: an answer to its places, anything else with the digits it needs.

    Of an input those are no fewer than the places that it was typed with: 20.10 was read on another
    gauge than 20.1.
    """
    if output is None:
        number = short_number(float(value.magnitude), 5 if role == "result" else 9)
        if places > decimals_of(number):
            number = round_half_up(float(value.magnitude), places)
        return join_unit(number, value.units)
    return join_unit(output.shown(float(value.to(output.unit).magnitude)), output.unit)


def _only_a_name(value: Traced) -> bool:
    """An input or a figure handed back as it was: nothing was worked out."""
    node = value.node
    while node is not None and node.op == "to":
        below = node.operands[0]
        if below.name:
            return True
        node = below.node
    return False


def _expression(value: Any, render: Render, *, top: bool = False) -> Pair:
    if not isinstance(value, Traced):
        if isinstance(value, Quantity):
            return _twice(join_unit(short_number(float(value.magnitude), 9), value.units))
        return _twice(short_number(float(value), 9))
    if (value.name and not top) or value.node is None:
        return render(value, value)
    op, operands = value.node.op, value.node.operands
    if op == "to":
        return _converted(value, render, top=top)
    if op == "√":
        return _within("√(", [_expression(operands[0], render)], ")")
    if op == "0−":
        return _within("−", [_bracketed(operands[0], render, 2, strict=True)], "")
    if op in _STRENGTH:
        left = _bracketed(operands[0], render, _STRENGTH[op], strict=op == "^")
        right = _bracketed(operands[1], render, _STRENGTH[op], strict=op in _ONE_SIDED)
        return f"{left[0]} {op} {right[0]}", f"{left[1]} {op} {right[1]}"
    inside = [_expression(operand, render) for operand in operands]
    return _within("|", inside, "|") if op == "abs" else _within(f"{op} (", inside, ")")


def _twice(text: str) -> Pair:
    return text, text


def _within(before: str, pairs: list[Pair], after: str) -> Pair:
    words, numbers = (", ".join(texts) for texts in zip(*pairs, strict=True))
    return f"{before}{words}{after}", f"{before}{numbers}{after}"


def _converted(value: Traced, render: Render, *, top: bool) -> Pair:
    """A conversion shows the converted number under the name of what was converted."""
    below: Any = value.node.operands[0] if value.node else None
    if not top and isinstance(below, Traced) and (below.name or below.node is None):
        return render(value, below)
    return _expression(below, render, top=top and not below.name)


def _bracketed(value: Any, render: Render, strength: int, *, strict: bool) -> Pair:
    pair = _expression(value, render)
    own = _own_strength(value)
    needs_them = own < strength or (strict and own == strength)
    return _within("(", [pair], ")") if needs_them else pair


def _own_strength(value: Any) -> int:
    while isinstance(value, Traced) and not value.name and value.node and value.node.op == "to":
        value = value.node.operands[0]
    if not isinstance(value, Traced) or value.name or value.node is None:
        return 9
    return _STRENGTH.get(value.node.op, 9)
