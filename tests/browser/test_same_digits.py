"""The browser's answers are CPython's, to the last digit.

Each reply is compared as a whole. A number crosses from the page as a double, so that two numbers
are equal only if all their digits are.
"""

from __future__ import annotations

import json

from tests.tables.rows import Row, rows

EACH = 6  # rows of each calculator; every row is run under Node


def sample() -> list[Row]:
    """Some rows of each calculator, spread over its table."""
    found: dict[str, list[Row]] = {}
    for row in rows():
        found.setdefault(row.calculator, []).append(row)
    return [row for each in found.values() for row in each[:: max(1, len(each) // EACH)][:EACH]]


def test_rows_are_answered_as_by_cpython(warm, bridge):
    asked = sample()
    assert asked
    page = warm("calculators/gas_rate.html")
    replies = page.evaluate(
        """async (requests) => {
            const replies = [];
            for (const request of requests) {
                replies.push(await window.hbCalculatorClient.run(request));
            }
            return replies;
        }""",
        [row.request for row in asked],
    )
    for row, reply in zip(asked, replies, strict=True):
        wanted = json.loads(bridge.answer(json.dumps(row.request)))
        assert without_edition(reply) == without_edition(wanted), row.id


def without_edition(reply):
    """The reply without the name of the edition, which holds the day of the build."""
    if "answer" in reply:
        return {"answer": {**reply["answer"], "edition": ""}}
    return reply
