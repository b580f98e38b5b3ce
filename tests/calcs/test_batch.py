"""Requests by the line: each has its reply, in order, in one shape; a bad one harms no other."""

from __future__ import annotations

import io
import json
import os
import select
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from build_tools.runtime.snapshot_cases import cases
from build_tools.setup.paths import ROOT
from calcs.engine import batch
from tests.tables.every_row import every_row
from tests.tables.rows import TODAY, Row, rows

SCHEMA = json.loads((Path(__file__).parent / "reply.schema.json").read_text("utf-8"))
GOOD = {
    "calculator": "gas_rate",
    "date": TODAY,
    "inputs": {"volume": "0.1 m³", "elapsed": "120 s", "calorific_value_gross": "36 MJ/m³"},
}


def in_place(part: Any) -> Any:
    """The schema with what it refers to in the place of each reference: looked up once."""
    if isinstance(part, list):
        return [in_place(each) for each in part]
    if not isinstance(part, dict):
        return part
    if "$ref" in part:
        assert part.keys() == {"$ref"}, part
        return in_place(SCHEMA["$defs"][part["$ref"].removeprefix("#/$defs/")])
    return {key: in_place(each) for key, each in part.items()}


VALIDATOR = Draft202012Validator(in_place({key: SCHEMA[key] for key in SCHEMA if key != "$defs"}))


def line(request: Any) -> bytes:
    return json.dumps(request, ensure_ascii=False).encode() + b"\n"


def answered(bridge, *lines: bytes) -> list[dict[str, Any]]:
    found = batch.replies(io.BytesIO(b"".join(lines)), bridge.reply, TODAY)
    return [json.loads(reply) for reply in found]


def valid(reply: dict[str, Any]) -> dict[str, Any]:
    VALIDATOR.validate(reply)
    return reply


def as_asked(row: Row) -> bytes:
    """A row of the tables as a script would send it."""
    return line(
        {
            "calculator": row.calculator,
            "inputs": row.facts["given"],
            "date": row.facts.get("on", TODAY),
            "overrides": row.facts.get("overrides", {}),
        }
    )


@every_row(rows())
def test_each_row_has_its_reply_in_the_one_shape(row, bridge):
    (reply,) = answered(bridge, as_asked(row))
    assert valid(reply)["status"] == ("refused" if "refused" in row.facts else "answered")
    assert reply["calculator"] == row.calculator
    if reply["status"] == "answered":
        assert [one["value"] for one in reply["answers"]] == [
            one["value"] for one in bridge.reply(row.request)["answer"]["answers"]
        ]


def test_each_worked_example_has_the_shape_too(bridge, bundle_text):
    ran = 0
    for asked, _ in cases(json.loads(bundle_text), day=_day()):
        request = json.loads(asked)
        if request["action"] == "run":
            ran += 1
            inputs = {name: one.get("rows", one) for name, one in request["inputs"].items()}
            valid(*answered(bridge, line({**GOOD, **_named(request), "inputs": inputs})))
    assert ran > 50


def _named(request: dict[str, Any]) -> dict[str, Any]:
    return {"calculator": request["calculator"], "date": request["today"]}


def _day():
    from datetime import date

    return date.fromisoformat(TODAY)


BAD = {
    "no JSON": (b"volume=0.1\n", "not_json"),
    "a word": (b'"gas_rate"\n', "not_a_request"),
    "a list": (b"[]\n", "not_a_request"),
    "null": (b"null\n", "not_a_request"),
    "an empty line": (b"\n", "not_a_request"),
    "spaces": (b"   \t\r\n", "not_a_request"),
    "nothing asked": (b"{}\n", "not_a_request"),
    "a part that is misspelt": (line({**GOOD, "overides": {}}), "not_a_request"),
    "a name twice": (b'{"calculator": "gas_rate", "calculator": "purge"}\n', "not_json"),
    "an input twice": (
        b'{"calculator": "gas_rate", "inputs": {"volume": "1", "volume": "2"}}\n', "not_json",
    ),
    "NaN": (b'{"calculator": "gas_rate", "inputs": {"volume": NaN}}\n', "not_json"),
    "infinity": (b'{"calculator": "gas_rate", "inputs": {"volume": -Infinity}}\n', "not_json"),
    "half a character": (b'{"calculator": "\\ud800"}\n', "not_json"),
    "no UTF-8": (b'{"calculator": "gas\xb3"}\n', "not_utf_8"),
    "two requests": (line(GOOD).strip() + line(GOOD), "not_json"),
    "cut off": (line(GOOD)[:40] + b"\n", "not_json"),
    "too deep": (b"[" * 200_000 + b"\n", "not_json"),
    "too deep, and closed": (b'{"calculator": ' + b"[" * 50_000 + b"]" * 50_000 + b"}\n",
                             "not_json"),
    "too long": (b'"' + b"x" * 3_000_000 + b'"\n', "too_long"),
    "null bytes": (b"\x00\x00\n", "not_json"),
}  # fmt: skip


@pytest.mark.parametrize(("bad", "kind"), BAD.values(), ids=BAD)
def test_a_bad_line_costs_its_own_reply_only(bridge, bad, kind):
    before, reply, after = answered(bridge, line(GOOD), bad, line(GOOD))
    assert before["status"] == after["status"] == "answered"
    assert valid(reply)["status"] == "failed"
    assert reply["failed"]["kind"] == kind
    assert "Traceback" not in reply["failed"]["message"]


@pytest.mark.parametrize(
    ("change", "field", "kind"),
    [
        ({"calculator": "gas_rat"}, "calculator", "unknown"),
        ({"calculator": ["gas_rate"]}, "calculator", "unknown"),
        ({"inputs": {**GOOD["inputs"], "volume": "500 m³"}}, "volume", "out_of_range"),
        ({"inputs": {**GOOD["inputs"], "volume": "soon"}}, "volume", "not_a_number"),
        ({"inputs": {**GOOD["inputs"], "voltage": "230"}}, "voltage", "unknown"),
    ],
)
def test_a_refusal_names_field_and_kind(bridge, change, field, kind):
    (reply,) = answered(bridge, line({**GOOD, **change}))
    (refusal,) = valid(reply)["refused"]
    assert (reply["status"], refusal["field"], refusal["kind"]) == ("refused", field, kind)
    assert reply.get("calculator") == (None if field == "calculator" else GOOD["calculator"])


def test_a_number_without_quotes_keeps_the_digits_it_was_written_with(bridge):
    """A reading of 1.50 is good to 0.005, one of 1.5 to 0.05."""
    written = (
        b'{"calculator": "gas_rate", "inputs": {"volume": 0.10, "elapsed": 120,'
        b' "calorific_value_gross": 36}, "date": "2026-11-25"}\n'
    )
    typed = {"volume": "0.10", "elapsed": "120", "calorific_value_gross": "36"}
    assert answered(bridge, written) == answered(bridge, line({**GOOD, "inputs": typed}))
    tens = [
        answered(bridge, b'{"calculator": "expansion_vessel", "inputs": {"system_volume": %s,'
                 b' "flow_temperature": "75 degC"}}\n' % number)
        for number in (b"100", b"100.0")
    ]  # fmt: skip
    assert all(valid(reply) for (reply,) in tens)


def test_the_last_line_needs_no_end_and_the_first_may_have_a_mark(bridge):
    marked = b"\xef\xbb\xbf" + line(GOOD)
    replies = answered(bridge, marked, line(GOOD).replace(b"\n", b"\r\n"), line(GOOD).strip())
    assert [reply["status"] for reply in replies] == ["answered"] * 3
    assert answered(bridge) == []


def test_a_figure_of_the_readers_own_and_the_day_count(bridge):
    (own,) = answered(bridge, line({**GOOD, "overrides": {"gas.natural_gas.gross_to_net": "1.2"}}))
    values = {one["name"]: one["value"] for one in own["answers"]}
    assert values["heat_input_net"] == pytest.approx(25)  # 30 kW gross ÷ 1.2
    assert "typed-by-reader" in {source["provenance"] for source in own["sources"]}
    (other,) = answered(bridge, line({**GOOD, "date": "2025-01-31"}))
    assert other["inputs"]["test_date"]["value"] == "2025-01-31"


@pytest.fixture
def program():
    words = [sys.executable, "-m", "calcs", "batch"]
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    with subprocess.Popen(words, cwd=ROOT, **pipes) as running:
        yield running
        running.kill()


def test_as_a_program_each_reply_comes_before_the_next_request(program):
    for request in (line(GOOD), b"no JSON\n", line(GOOD)):
        program.stdin.write(request)
        program.stdin.flush()
        assert select.select([program.stdout], [], [], 60)[0], "no reply came"
        valid(json.loads(program.stdout.readline()))
    program.stdin.close()
    assert program.wait(20) == 0
    assert program.stdout.read() == program.stderr.read() == b""


def test_whoever_reads_may_stop(program):
    program.stdout.close()
    program.stdin.write(line(GOOD) * 3)
    program.stdin.close()
    assert program.wait(60) == 0
    assert b"Traceback" not in program.stderr.read()


def test_batch_and_run_print_the_same(bridge):
    words = [*(f"{name}={value}" for name, value in GOOD["inputs"].items()), "--date", TODAY]
    asked = [sys.executable, "-m", "calcs", "run", "gas_rate", *words, "--json"]
    environment = {**os.environ, "PYTHONIOENCODING": "utf-8"}
    done = subprocess.run(asked, cwd=ROOT, env=environment, capture_output=True, check=True)
    (reply,) = answered(bridge, line(GOOD))
    printed = json.loads(done.stdout)
    assert {**printed, "edition": ""} == {**reply, "edition": ""}
