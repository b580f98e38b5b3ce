"""An answer told in two parts, as a page that shows the figures first asks for it, is the whole."""

from __future__ import annotations

from typing import Any

from calcs.bridge import Bridge
from tests.tables.rows import Row, rows


def asked(bridge: Bridge, request: dict[str, Any]) -> dict[str, Any]:
    return bridge.reply(request)


def in_parts(bridge: Bridge, row: Row) -> dict[str, Any]:
    reply = asked(bridge, {**row.request, "action": "begin"})
    if "answer" not in reply:
        return reply
    assert "working" not in reply["answer"]
    return {"answer": {**reply["answer"], **asked(bridge, {"action": "rest"})["rest"]}}


def test_every_row_is_answered_the_same_in_parts_as_whole(bridge):
    every = rows()
    other = [row.id for row in every if in_parts(bridge, row) != asked(bridge, row.request)]
    assert other == []
    assert every


def test_the_rest_is_given_once_and_only_of_the_answer_that_was_begun_last(bridge):
    [answered, *_] = (row.request for row in rows() if "refused" not in row.facts)
    begun, refused = {**answered, "action": "begin"}, {**answered, "inputs": {}, "action": "begin"}
    for before in ([begun, {"action": "rest"}], [answered], [begun, refused]):
        for request in before:
            asked(bridge, request)
        failed = asked(bridge, {"action": "rest"})["failed"]
        assert failed["message"] == "RuntimeError: No answer was begun whose rest could be given."
