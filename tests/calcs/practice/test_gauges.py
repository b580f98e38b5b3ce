"""The drawings read by their own coordinates, and the words that say the same.

What is found here is worked back from lines, figures and hands as a reader sees them. Nothing of
the modules that drew them is used but the drawing.
"""

from __future__ import annotations

import math
import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from calcs.practice import marking, put
from calcs.practice.draw import question
from calcs.practice.gauges.drawn import INSTRUMENTS, drawing
from tests.calcs.practice.held import pack
from tests.calcs.practice.seen_gauges import MM, NUMBER, READ, displays, foot_of, parts, points

SEEDS = range(100)


@pytest.mark.parametrize("name", READ)
def test_what_the_drawing_shows_is_the_answer(name: str) -> None:
    held = pack()
    for seed in SEEDS:
        found = question(held, name, str(seed))
        svg = drawing(found.template["drawn"], found.values)["svg"]
        assert READ[name](svg, found) == pytest.approx(found.right, abs=found.tolerance / 5)


def test_each_question_that_is_read_is_read_here_too() -> None:
    asked = {name for name, one in pack().questions.items() if one["asks"] == "read"}
    assert asked == {*READ}
    drawn = {
        each["instrument"] for one in pack().questions.values() for each in one.get("drawn", ())
    }
    assert drawn == {*INSTRUMENTS}


def test_the_words_say_what_is_seen_and_never_the_answer() -> None:
    held = pack()
    is_sum = {name for name in READ if name.startswith("read_u_gauge")}
    is_sum |= {"read_digital_offset", "read_gas_used", "read_meter_imperial_dial", "read_stopwatch"}
    is_sum |= {"zero_and_read", "zero_and_read_fine"}
    for name in sorted(is_sum):
        for seed in SEEDS:
            found = question(held, name, str(seed))
            words = drawing(found.template["drawn"], found.values)["words"]
            assert f"{found.right:g}" not in NUMBER.findall(words), words
    inches = put.put(question(held, "read_digital_inches", "1"))["drawing"]["words"]
    assert inches.endswith(" in w.g.")  # the stop of the unit is that of the sentence too
    for name in ("read_u_gauge_equal", "read_u_gauge_unequal", "read_u_gauge_right"):
        found = question(held, name, "3")
        words = put.put(found)["drawing"]["words"]
        limbs = re.findall(r"stands at (\S+) (above|below)", words)
        levels = [float(number) * (1 if way == "above" else -1) for number, way in limbs]
        assert abs(levels[0] - levels[1]) == found.right


@pytest.mark.parametrize("name", ["zero_and_read", "zero_and_read_fine"])
def test_a_gauge_that_is_handled_shows_what_one_of_a_zero_and_a_pressure_would(name: str) -> None:
    """By hand: it shows the pressure on its tube and its offset; zeroing makes both come to 0."""
    for seed in range(5):
        found = question(pack(), name, str(seed))
        live = put.put(found)["drawing"]["live"]
        seen = {each: displays(live["states"][each]["svg"])[0] for each in live["states"]}
        pressure, left = float(found.values["true_p"].split()[0]), {*seen}
        for acts in range(32):  # to zero it or to move its tube, five times, in every order
            on, offset = False, float(found.values["zero"].split()[0])
            state = live["start"]
            for act in (acts >> place & 1 for place in range(5)):
                left.discard(state)
                shown, display = live["states"][state], seen[state]
                assert float(display) == pytest.approx(pressure * on + offset, abs=1e-9)
                assert f"display shows {display.replace('-', 'minus ')} mbar" in shown["words"]
                assert ("On the test point" in shown["words"]) == on
                on, offset = (not on, offset) if act else (on, -pressure * on)
                state = shown["acts"][act]["to"]
        assert not left


def test_a_gauge_that_is_handled_stands_still_on_paper_and_once_it_is_answered() -> None:
    found = question(pack(), "zero_and_read", "1")
    assert "live" not in put.drawn(found, solved=True)["drawing"]
    told = marking.mark(found, {"text": found.values["shown"].split()[0], "unit": "mbar"}, pack())
    assert [each["name"] for each in told["slips"]] == ["zero_kept"]
    told = marking.mark(found, {"text": "0.0", "unit": "mbar"}, pack())
    assert [each["name"] for each in told["slips"]] == ["zeroed_on"]


def test_a_gauge_at_a_slant_has_level_water() -> None:
    """Both ends open: the water's two levels lie on one line that is level once it is turned."""
    given = {"instrument": "u_gauge", "left": "=-0.7 mbar", "right": "=0.7 mbar"}
    svg = drawing([{**given, "tube": "=none", "slant": "=yes"}], {})["svg"]
    root = ET.fromstring(svg)  # noqa: S314  our own drawing
    slant = next(each for each in root.iter() if "transform" in each.attrib).get("transform", "")
    degrees = float(slant.removeprefix("rotate(").split()[0])
    (left,), (right,) = parts(svg, "left"), parts(svg, "right")
    ends = [(points(each)[1][0], foot_of(each)) for each in (left, right)]
    slope = math.degrees(math.atan2(ends[0][1] - ends[1][1], ends[1][0] - ends[0][0]))
    assert slope == pytest.approx(degrees, abs=0.5)


def test_marks_are_wide_apart_on_paper_and_words_are_large() -> None:
    held = pack()
    for name, template in held.questions.items():
        if "drawn" not in template:
            continue
        svg = put.put(question(held, name, "1"))["drawing"]["svg"]
        root = ET.fromstring(svg)  # noqa: S314  our own drawing
        width, height = (float(each) for each in root.get("viewBox", "").split()[2:])
        assert float(root.get("width", "")) == width  # so a unit is a pixel of 96 to the inch
        for marks in parts(svg, "marks"):
            ends = points(marks)[::2]
            sides = [[end for end in ends if end[0] == x] for x in {x for x, _ in ends}]
            if "dial" not in str(template["drawn"]):
                for side in sides:
                    heights = sorted(y for _, y in side)
                    least = min(after - before for before, after in pairwise(heights))
                    assert least * MM >= 1.5, name
            else:
                assert min(math.dist(*pair) for pair in pairwise(ends)) * MM >= 1.5, name
        for text in root.iter("{http://www.w3.org/2000/svg}text"):
            assert float(text.get("font-size", "")) >= 15.8
            assert 0 < float(text.get("x", "")) < width
            assert 0 < float(text.get("y", "")) <= height
