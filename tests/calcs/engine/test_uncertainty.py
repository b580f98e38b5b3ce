"""The uncertainty of an answer: none goes unsaid, and what is said is what the formula makes of it.

The law of propagation (JCGM 100, 5.1.2) is followed here by running the whole formula again with
each figure moved a little, which knows nothing of how the traced quantities were differentiated.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

from build_tools.runtime.snapshot_cases import cases
from calcs.bridge import Bridge
from calcs.engine import answer as answering
from calcs.engine import read_inputs
from calcs.engine.declarations import STATED, WRITTEN, Input, Instrument
from calcs.engine.errors import Refusal
from calcs.engine.in_force import InForce
from calcs.engine.last_digit import last_place
from calcs.engine.registry import calculators, labels
from calcs.engine.traced import Traced
from calcs.engine.uncertainty import standard_uncertainty
from tests.project import project
from tests.tables.every_row import every_row
from tests.tables.rows import TODAY, Row, rows

ROWS = [row for row in rows() if "refused" not in row.facts]
REASONS = set(project().one("words")["no_uncertainty_reasons"]) - {"of_all", "of_some"}
# Their answers get their uncertainty inside the formula, or have none.
MADE_INSIDE = {"pipe_pressure_loss", "pipe_size", "reading_verdict", "unit_converter"}
SHARE_COMPARED = 0.75  # of the answers of each of the others
STEP = 1e-3  # of a standard uncertainty: small enough for any curve, far above the last digits


@every_row(ROWS)
def test_every_answer_shows_its_uncertainty_or_says_why_not(row: Row, bridge: Bridge):
    found, _ = answering.begin(
        calculators()[row.calculator],
        bridge.reference,
        row.request["inputs"],
        date.fromisoformat(row.request["today"]),
        row.request["overrides"],
    )
    assert_nothing_is_unsaid(found)


def assert_nothing_is_unsaid(found: dict[str, Any]) -> None:
    for one in found["answers"]:
        said = (bool(one["uncertainty_text"]), one["no_uncertainty_reason"] in REASONS)
        assert said in {(True, False), (False, True)}, one
    silent = {one["no_uncertainty_reason"] for one in found["answers"]} - {None}
    assert len(found["no_uncertainty_reasons"]) == len(silent)


def test_the_worked_examples_leave_no_uncertainty_unsaid(bundle_text: str):
    replies = [
        json.loads(text) for _, text in cases(json.loads(bundle_text), date.fromisoformat(TODAY))
    ]
    answered = [reply["answer"] for reply in replies if "answer" in reply]
    assert {found["calculator"] for found in answered} == set(calculators())
    for found in answered:
        assert_nothing_is_unsaid(found)


def test_an_input_may_not_leave_its_uncertainty_unsaid():
    with pytest.raises(ValueError, match="must say what uncertainty it carries"):
        Input("length", "m", 0, 1)
    with pytest.raises(ValueError, match="must say what uncertainty it carries"):
        Input("length", "m", 0, 1, read_with="rule", uncertainty=STATED)
    with pytest.raises(ValueError, match="must say what uncertainty it carries"):
        Input("length", "m", 0, 1, uncertainty="none")
    assert Input("length", "m", 0, 1, uncertainty=WRITTEN).uncertainty == WRITTEN


@pytest.mark.parametrize("calculator", calculators().values(), ids=lambda one: one.id)
def test_what_an_input_names_for_its_uncertainty_is_there(calculator):
    known = {item.name: item for item in calculator.inputs}
    cells = [cell for item in calculator.inputs for cell in getattr(item, "columns", (item,))]
    for cell in cells:
        if isinstance(cell, Input) and cell.read_with:
            assert isinstance(known.get(cell.read_with), Instrument), cell.name
        if isinstance(cell, Input) and cell.good_to:
            assert known[cell.good_to].unit == "percent", cell.name


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("16 m", 1),
        ("16.0 m", 0.1),
        (".5", 0.1),
        ("-3.25 °C", 0.01),
        ("\N{MINUS SIGN}3.25", 0.01),
        ("1.5e3", 100),
        ("1796e-8 Pa*s", 1e-8),
        ("2:01", 1),
        ("2:01.5", 0.1),
        ("7.", 1),
    ],
)
def test_the_last_digit_is_the_one_that_was_typed(text: str, place: float):
    assert math.isclose(last_place(text), place, rel_tol=1e-12)


@pytest.mark.parametrize("calculator", calculators().values(), ids=lambda one: one.id)
def test_the_uncertainty_is_what_moving_each_figure_makes_of_it(calculator, bridge: Bridge):
    """Of its rows together: at the edge of a table or of a choice an answer can't be compared."""
    own = [row for row in ROWS if row.calculator == calculator.id]
    compared = [each for row in own for each in compared_with_moves(row, bridge)]
    least = 0 if calculator.id in MADE_INSIDE else SHARE_COMPARED
    assert any(compared) == bool(least)
    assert compared.count(True) >= least * len(compared)


def compared_with_moves(row: Row, bridge: Bridge) -> Iterator[bool]:
    """Of each answer of a row that has an uncertainty by its figures, whether it was compared."""
    calculator = calculators()[row.calculator]
    if read_inputs.decisive(calculator, row.request["inputs"]):
        return  # answered without a number
    words = labels(calculator, bridge.reference)
    on = date.fromisoformat(row.request["today"])
    in_force = InForce(bridge.reference, on, row.request["overrides"])
    given = read_inputs.read(calculator, words, row.request["inputs"], in_force)

    def worked_out() -> dict[str, Any]:
        return answering._computed(calculator, given, words)

    answers = worked_out()
    uncertain = {
        id(one): one
        for one in (*figures(given.values), *in_force.quantities.values())
        if one.standard_uncertainty is not None and one.standard_uncertainty.magnitude
    }
    moves = [moved_by(one, worked_out) for one in uncertain.values()]
    for output in calculator.outputs:
        value = None if output.no_uncertainty_reason else answers.get(output.name)
        # One that is made inside the formula, such as that of a bore, has tests of its own.
        if value is None or not {id(leaf) for leaf in leaves(value)} <= set(uncertain):
            continue
        slopes = [move[output.name] for move in moves if output.name in move]
        uncertainty = standard_uncertainty(value)
        # At the edge of a table or of a choice the two sides differ, and there is no slope.
        is_smooth = all(abs(up - down) <= 0.01 * uncertainty for up, down in slopes)
        is_compared = is_smooth and len(slopes) == len(moves)
        yield is_compared
        if is_compared:
            wanted = math.sqrt(math.fsum(((up + down) / 2) ** 2 for up, down in slopes))
            close = math.isclose(uncertainty, wanted, rel_tol=0.01, abs_tol=1e-9)
            assert close, (row.id, output.name, uncertainty, wanted)


def figures(values: Any) -> Iterator[Traced]:
    """What the reader gave and every figure of an instrument, cell by cell."""
    for value in values.values() if hasattr(values, "values") else values:
        if isinstance(value, Traced):
            yield value
        elif isinstance(value, tuple | dict):
            yield from figures(value)


def leaves(value: Any) -> Iterator[Traced]:
    """Figures with an uncertainty that a value came about from."""
    seen, waiting = set(), [value]
    while waiting:
        step = waiting.pop()
        if not isinstance(step, Traced) or id(step) in seen:
            continue
        seen.add(id(step))
        if step.standard_uncertainty is not None:
            if step.standard_uncertainty.magnitude:
                yield step
        elif step.node is not None:
            waiting.extend(step.node.operands)


def moved_by(one: Traced, worked_out: Any) -> dict[str, tuple[float, float]]:
    """What one standard uncertainty of a figure moves each result by, up and down, in base units.

    Empty where the figure stands at the edge of what can be: moved, it is refused.
    """
    start, uncertainty = one._magnitude, one.standard_uncertainty
    step = STEP * float(
        uncertainty.to(f"delta_{one.units}" if _on_a_scale(one) else one.units).magnitude
    )
    try:
        below, at, above = (_results(one, start + way * step, worked_out) for way in (-1, 0, 1))
    except (Refusal, ValueError):  # the logarithm of less than nought
        return {}
    finally:
        _results(one, start, worked_out)
        one.standard_uncertainty = uncertainty
    both = set(below) & set(at) & set(above)
    return {n: ((above[n] - at[n]) / STEP, (at[n] - below[n]) / STEP) for n in both}


def _results(one: Traced, magnitude: float, worked_out: Any) -> dict[str, float]:
    one._magnitude, one.base = magnitude, None
    return {name: float(value.to_base_units().magnitude) for name, value in worked_out().items()}


def _on_a_scale(one: Traced) -> bool:
    return str(one.units) in {"degree_Celsius", "degree_Fahrenheit"}
