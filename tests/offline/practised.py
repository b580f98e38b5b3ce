"""What a browser draws of a paper: CPython's own text, each part where its numbers put it."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from calcs.practice import paper_reply
from tests.calcs.practice.held import held, pack

WALK = (Path(__file__).parent.parent / "web" / "practise_walk.js").read_text("utf-8")
WALK = WALK.rstrip().removesuffix(";")
ASKED = [{"about": "paper_key", "paper": "pressure_and_input", "seed": "297"}]
STEP = re.compile(r"([MLVz])([^A-Za-z]*)")
NEAR = 0.02  # of a unit: browsers keep such numbers in single precision


def prove(found: list[dict[str, Any]]) -> None:
    """Whether this is what CPython draws; an assertion says what is not."""
    tried = 0
    for request, one in zip(ASKED, found, strict=True):
        wanted = paper_reply.reply(request, held(), pack())
        assert one["reply"] == json.loads(json.dumps(wanted))
        drawn = [
            each["drawing"]["svg"] for each in wanted["practice"]["asked"] if "drawing" in each
        ]
        for svg, parts in zip(drawn, one["parts"], strict=True):
            for box, seen in zip(boxes(svg), parts, strict=True):
                assert box is None or seen == pytest.approx(box, abs=NEAR)
                tried += box is not None
    assert tried > 10


def boxes(svg: str) -> list[list[float] | None]:
    """Where each named path stands, from the ends of its lines; nothing of one that is bent."""
    root = ET.fromstring(svg)  # noqa: S314  our own drawing
    named = [each.get("d", "") for each in root.iter() if each.get("data-hb-gauge")]
    return [_box(d) for d in named if d]


def _box(d: str) -> list[float] | None:
    if "".join(letter + rest for letter, rest in STEP.findall(d)) != d:
        return None
    x, xs, ys = 0.0, [], []
    for letter, rest in STEP.findall(d):
        numbers = [float(each) for each in rest.split()]
        if letter in "ML":
            x = numbers[0]
        if letter != "z":
            xs.append(x)
            ys.append(numbers[-1])
    return [min(xs), min(ys), max(xs), max(ys)]
