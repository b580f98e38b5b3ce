"""Every row of every table: right answers, verdicts and refusals, in CPython."""

from __future__ import annotations

import json
import math
from collections import Counter
from typing import Any

import pytest

from build_tools.sources.rules.table_of_proof import HOW, MEMORY, PUBLISHED, SECONDARY
from calcs.bridge import Bridge
from calcs.engine.reference import PROVENANCES
from calcs.engine.registry import calculators
from calcs.engine.units import parse_quantity
from tests.tables import libraries
from tests.tables.every_row import every_row
from tests.tables.rows import ORDINARY, Row, by_kind, fault, rows

ROWS = rows()
# The weakest provenance that a verdict may have whose row is said to be read in a source.
WEAKEST = {PUBLISHED: "typed-by-reader", SECONDARY: "secondary"}
HELD = set(PROVENANCES) - {"not-held"}
# Rows whose answer nobody has looked up. The number may only go down.
FROM_MEMORY = 81


@every_row(ROWS)
def test_row(row: Row, bridge: Bridge):
    reply = json.loads(bridge.answer(json.dumps(row.request)))
    if "refused" in row.facts:
        _check_refusal(row, reply)
        return
    assert "answer" in reply, reply
    found = reply["answer"]
    values = {one["name"]: one for one in found["answers"]}
    for name, expected in _expected(row).items():
        assert name in values, f"{name} is not among {sorted(values)}"
        _check_value(row, name, values[name]["value"], values[name]["unit"], expected)
    for name, expected in row.facts.get("uncertainty", {}).items():
        one = values[name]
        _check_value(row, name, one["uncertainty"], _width(one["unit"]), parse_quantity(expected))
    outcomes = {one["name"]: one["outcome"] for one in found["verdicts"]}
    for name, outcome in row.facts.get("verdicts", {}).items():
        assert outcomes.get(name) == outcome, (name, outcomes, found["verdicts"])
    _check_provenance(row, found["verdicts"])
    _check_columns(row, found["tables"])
    _check_charts(row, found["charts"])
    for name, text in row.facts.get("shown", {}).items():
        parts = (values[name]["text"], values[name]["uncertainty_text"])
        assert _plain(" ".join(filter(None, parts))) == text
    told = {verdict["name"]: verdict["text"] for verdict in found["verdicts"]}
    for name, words in row.facts.get("verdicts_say", {}).items():
        assert words in _plain(told[name]), told[name]
    said = {note["name"]: note["text"] for note in found["notes"]}
    for name, words in row.facts.get("notes_say", {}).items():
        assert words in said[name].replace("\N{NO-BREAK SPACE}", " "), said
    if "notes" in row.facts:
        assert [note["name"] for note in found["notes"]] == row.facts["notes"]


def _plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def _expected(row: Row) -> dict[str, Any]:
    if library := row.facts.get("library"):
        found: dict[str, Any] = getattr(libraries, library)(row.facts["given"])
        return found
    return {name: parse_quantity(text) for name, text in row.facts.get("expect", {}).items()}


def _check_value(row: Row, name: str, value: float, unit: str, expected: Any) -> None:
    wanted = expected.to(unit).magnitude
    width, _, kind = row.facts.get("within", "1e-9 relative").partition(" ")
    if kind == "relative":
        allowed = float(width) * abs(wanted)
    else:
        allowed = parse_quantity(row.facts["within"]).to(_width(unit)).magnitude
    is_ordinary = allowed <= ORDINARY * abs(wanted) or not wanted
    assert is_ordinary or row.facts.get("because"), (
        f"{row.id}: {allowed} is {allowed / abs(wanted):.2g} of {wanted} {unit}. Why, in 'because'?"
    )
    assert math.isclose(value, wanted, rel_tol=0, abs_tol=allowed + 1e-12), (
        f"{row.id}: {name} is {value} {unit}, expected {wanted} within {allowed}"
    )


def _check_provenance(row: Row, verdicts: list[dict[str, Any]]) -> None:
    """A row said to be read in a source has no verdict that rests on less."""
    weakest = WEAKEST.get(row.kind)
    for one in verdicts:
        provenance = one["provenance"]
        if weakest and one["name"] in row.facts.get("verdicts", {}) and provenance in HELD:
            assert PROVENANCES.index(provenance) <= PROVENANCES.index(weakest), (
                f"{row.id} is '{row.kind}', and its verdict '{one['name']}' is '{provenance}'"
            )


def _check_columns(row: Row, tables: list[dict[str, Any]]) -> None:
    """Cells as they are shown; a column of numbers is compared digit by digit."""
    shown = {table["name"]: table for table in tables}
    for name, columns in row.facts.get("tables", {}).items():
        heads = [column["name"] for column in shown[name]["columns"]]
        for head, expected in columns.items():
            place = heads.index(head)
            assert [cells[place]["text"] for cells in shown[name]["rows"]] == expected, (name, head)


def _check_charts(row: Row, charts: list[dict[str, Any]]) -> None:
    """Points by their place, six digits that count. A line may have more than the row names."""
    drawn = {chart["name"]: chart for chart in charts}
    for name, expected in row.facts.get("charts", {}).items():
        series = {one["name"]: one for one in drawn[name]["series"]}
        for label, points in expected.items():
            found = series[label]
            assert found["kind"] == "line" or len(found["points"]) == len(points), found
            for point in points:
                wanted = [float(value) for value in point]
                assert any(_is_near(one, wanted) for one in found["points"]), (label, point, found)


def _is_near(point: list[float] | None, wanted: list[float]) -> bool:
    pairs = zip(point or (), wanted, strict=False)
    return point is not None and all(
        math.isclose(one, other, rel_tol=1e-5, abs_tol=1e-9) for one, other in pairs
    )


def _width(unit: str) -> str:
    return "delta_degC" if unit == "degC" else unit


def _check_refusal(row: Row, reply: dict[str, Any]) -> None:
    assert "refused" in reply, reply
    said = {one["field"]: one["plain"] for one in reply["refused"]}
    for field, words in row.facts["refused"].items():
        assert field in said, said
        assert words in said[field], said[field]


def test_every_calculator_has_rows_and_rows_from_outside():
    counted = Counter(row.calculator for row in ROWS)
    outside = Counter(row.calculator for row in ROWS if row.from_outside)
    assert set(counted) == set(calculators())
    assert {name: n for name, n in counted.items() if n < 4} == {}
    assert {name: outside[name] for name in counted if outside[name] < 2} == {}


def test_what_is_from_memory_only_shrinks():
    remembered = [row.id for row in ROWS if row.kind == MEMORY]
    assert len(remembered) <= FROM_MEMORY, by_kind() + "\n" + "\n".join(remembered)


SEEN = {"id": "iso_6976", "where": "Annex D"}


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({}, HOW),
        ({"source": "ISO 6976, Annex D"}, HOW),
        ({"published": "ISO 6976, Annex D"}, "'published' is to be {id:"),
        ({"published": {"id": "iso_6976"}}, "'published' is to be {id:"),
        ({"published": {"id": "iso_6977", "where": "Annex D"}}, "has no 'iso_6977'"),
        ({"published": {"id": "eh40", "where": "Table 1"}}, "its source 'eh40' is 'not-seen'"),
        ({"secondary": {"id": "eh40", "where": "Table 1"}}, "its source 'eh40' is 'not-seen'"),
        ({"published": SEEN, "library": "units_by_scipy"}, "in more than one way"),
    ],
)
def test_a_row_says_how_its_answer_is_known(facts: dict[str, Any], words: str):
    assert words in fault({"id": "a", "given": {}, **facts})


def test_a_row_that_says_it_well_is_taken():
    for facts in (
        {"published": SEEN},
        {"from_memory": {"id": "eh40", "where": "Table 1"}, "working": "1 + 1"},
        {"working": "1 + 1 = 2"},
        {"library": "units_by_scipy"},
    ):
        assert fault({"id": "a", "given": {}, **facts}) == ""


def test_row_ids_are_unique():
    assert [name for name, n in Counter(row.id for row in ROWS).items() if n > 1] == []
