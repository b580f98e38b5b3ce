"""The working: each step in words, in numbers and as a result, read off the values computed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from calcs.core import Output
from calcs.registry import label_of
from calcs.traced import Traced
from calcs.units import Quantity, join_unit, short_number

Render = Callable[[Traced], str]
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
    # The same quantities come up again and again. Each is kept, so that its id stays its own.
    texts: dict[int, tuple[Traced, str]] = {}

    def number(value: Traced) -> str:
        if id(value) not in texts:
            texts[id(value)] = value, show(value, shown.get(value.name or ""))
        return texts[id(value)][1]

    def word(value: Traced) -> str:
        if not value.name:
            return value.label or number(value)
        return label_of(labels, value.name, value.label)

    return [
        {
            "name": name,
            "label": label_of(labels, name),
            "symbols": _expression(value, word, top=True),
            "numbers": _expression(value, number, top=True),
            "result": number(value),
        }
        for name, value in results.items()
        if isinstance(value, Traced) and value.node is not None and not _only_a_name(value)
    ]


def show(value: Any, output: Output | None = None) -> str:
    """A quantity as text: an answer to its places, anything else with the digits it needs."""
    if output is None:
        digits = 5 if isinstance(value, Traced) and value.role == "result" else 9
        return join_unit(short_number(float(value.magnitude), digits), value.units)
    return join_unit(output.shown(float(value.to(output.unit).magnitude)), output.unit)


def _only_a_name(value: Traced) -> bool:
    """An input or a record handed back as it was: nothing was worked out."""
    node = value.node
    while node is not None and node.op == "to":
        below = node.operands[0]
        if below.name:
            return True
        node = below.node
    return False


def _expression(value: Any, render: Render, *, top: bool = False) -> str:
    if not isinstance(value, Traced):
        if isinstance(value, Quantity):
            return join_unit(short_number(float(value.magnitude), 9), value.units)
        return short_number(float(value), 9)
    if (value.name and not top) or value.node is None:
        return render(value)
    op, operands = value.node.op, value.node.operands
    if op == "to":
        return _converted(value, render, top=top)
    if op == "√":
        return f"√({_expression(operands[0], render)})"
    if op == "0−":
        return f"−{_bracketed(operands[0], render, 2, strict=True)}"
    if op in _STRENGTH:
        left = _bracketed(operands[0], render, _STRENGTH[op], strict=op == "^")
        right = _bracketed(operands[1], render, _STRENGTH[op], strict=op in _ONE_SIDED)
        return f"{left} {op} {right}"
    inside = ", ".join(_expression(operand, render) for operand in operands)
    return f"|{inside}|" if op == "abs" else f"{op} ({inside})"


def _converted(value: Traced, render: Render, *, top: bool) -> str:
    """A conversion shows the converted number under the name of what was converted."""
    below: Any = value.node.operands[0] if value.node else None
    if not top and isinstance(below, Traced) and (below.name or below.node is None):
        copy = Traced(value.magnitude, value.units)
        copy.name, copy.label, copy.role = below.name, below.label, below.role
        return render(copy)
    return _expression(below, render, top=top and not below.name)


def _bracketed(value: Any, render: Render, strength: int, *, strict: bool) -> str:
    text = _expression(value, render)
    own = _own_strength(value)
    return f"({text})" if own < strength or (strict and own == strength) else text


def _own_strength(value: Any) -> int:
    while isinstance(value, Traced) and not value.name and value.node and value.node.op == "to":
        value = value.node.operands[0]
    if not isinstance(value, Traced) or value.name or value.node is None:
        return 9
    return _STRENGTH.get(value.node.op, 9)
