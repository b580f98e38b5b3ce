"""Every row of every file of steps, in CPython."""

from __future__ import annotations

from collections import Counter

from tests.every_case import every_case_of
from tests.steps.outcome_rows import COMPARED, OutcomeRow, outcome_rows, told

ROWS = outcome_rows()


@every_case_of("row", ROWS, of=lambda row: row.procedure, ids=lambda row: row.id)
def test_the_step_says_so(row: OutcomeRow, bridge):
    reply = bridge.reply(row.request)
    line = told(reply["outcomes"][row.step])
    assert {name: line[name] for name in row.expected} == row.expected


def test_no_two_rows_share_a_name_and_each_compares_something():
    assert [name for name, count in Counter(row.id for row in ROWS).items() if count > 1] == []
    assert [row.id for row in ROWS if not row.expected] == []
    known = {"id", "step", "readings", "without", "answers", "overrides", "today", "working"}
    assert {key for row in ROWS for key in row.facts} <= known | set(COMPARED)
    assert [row.id for row in ROWS if not row.facts.get("working")] == []
