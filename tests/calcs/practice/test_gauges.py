"""The drawings read by their own coordinates, and the words that say the same.

What is found here is worked back from lines, figures and hands as a reader sees them. Nothing of
the modules that drew them is used but the drawing.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from calcs.practice import marking, put
from calcs.practice.draw import Question, question
from calcs.practice.gauges.drawn import INSTRUMENTS, drawing
from tests.calcs.practice.held import pack

SEEDS = range(100)
MM = 25.4 / 96  # of the unit that a drawing is `width` of
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
# Which lines of a figure of seven bars are there, from what is seen: across at the top, in the
# middle and at the foot; up and down on the left and on the right, above and below.
LINES = {
    "0": "top foot upper-left upper-right lower-left lower-right",
    "1": "upper-right lower-right",
    "2": "top middle foot upper-right lower-left",
    "3": "top middle foot upper-right lower-right",
    "4": "middle upper-left upper-right lower-right",
    "5": "top middle foot upper-left lower-right",
    "6": "top middle foot upper-left lower-left lower-right",
    "7": "top upper-right lower-right",
    "8": "top middle foot upper-left upper-right lower-left lower-right",
    "9": "top middle foot upper-left upper-right lower-right",
    "-": "middle",
}
FIGURE = {frozenset(lines.split()): figure for figure, lines in LINES.items()}


def parts(svg: str, name: str) -> list[ET.Element]:
    root = ET.fromstring(svg)  # noqa: S314  our own drawing
    return [each for each in root.iter() if each.get("data-hb-gauge") == name]


def numbers(element: ET.Element) -> list[float]:
    return [float(each) for each in NUMBER.findall(element.get("d", ""))]


def points(element: ET.Element) -> list[tuple[float, float]]:
    found = numbers(element)
    return list(zip(found[::2], found[1::2], strict=True))


def foot_of(curve: ET.Element) -> float:
    """Where the middle of a curve of one control point stands."""
    (_, start), (_, control), (_, end) = points(curve)
    return (start + 2 * control + end) / 4


def u_gauge(svg: str) -> float:
    """Both limbs against the figures of the scale: what lies between them."""
    figures = [
        (float(each.text or ""), float(each.get("y", "")) - 5) for each in parts(svg, "figure")
    ]
    nought = next(y for value, y in figures if value == 0)
    upper = next(y for value, y in figures if value == 10 and y < nought)
    left, right = (foot_of(parts(svg, name)[0]) for name in ("left", "right"))
    return abs(left - right) / (nought - upper) * 10


def limb(svg: str) -> float:
    figures = [
        (float(each.text or ""), float(each.get("y", "")) - 5) for each in parts(svg, "figure")
    ]
    (low, low_y), (high, high_y) = figures[0], figures[-1]
    foot = foot_of(parts(svg, "surface")[0])
    return low + (low_y - foot) / (low_y - high_y) * (high - low)


def displays(svg: str) -> list[str]:
    """What each display shows, its figures told by their bars."""
    figures = [points(each) for each in parts(svg, "bars")]
    tops = sorted({min(y for _, y in each) for each in figures})
    root = ET.fromstring(svg)  # noqa: S314  our own drawing
    dots = [
        (float(each.get("cx", "")), float(each.get("cy", "")))
        for each in root.iter()
        if each.tag.endswith("circle") and each.get("r") == "3"
    ]
    rows: dict[float, list[tuple[float, str]]] = {}
    for figure in figures:
        top = next(each for each in tops if each >= min(y for _, y in figure) - 23)
        rows.setdefault(top, []).append((figure[0][0], figure_of(figure, top)))
    for top, row in rows.items():
        places = [(x, y) for x, y in dots if top <= y <= top + 45]
        for x in {x for x, _ in places}:
            row.append((x, ":" if [each for each, _ in places].count(x) == 2 else "."))
    return ["".join(sign for _, sign in sorted(rows[top])) for top in sorted(rows)]


def figure_of(ends: list[tuple[float, float]], top: float) -> str:
    left, middle = min(x for x, _ in ends), top + 22
    is_narrow = max(x for x, _ in ends) == left  # a one has the right side alone
    seen = set()
    for (x, y), (_, end_y) in zip(ends[::2], ends[1::2], strict=True):
        if y == end_y:
            seen.add("top" if y < middle else "middle" if y == middle else "foot")
        else:
            side = "right" if x > left or is_narrow else "left"
            seen.add(f"{'upper' if max(y, end_y) <= middle else 'lower'}-{side}")
    return FIGURE[frozenset(seen)]


def indexes(svg: str) -> list[str]:
    """The wheels of each index from the left, where a red one is a figure after the point."""
    root = ET.fromstring(svg)  # noqa: S314  our own drawing
    wheels = [
        (float(each.get("x", "")), float(each.get("y", "")), each.text or "")
        for name in ("wheel", "leaving")
        for each in parts(svg, name)
    ]
    points_at = [
        (float(each.get("cx", "")), float(each.get("cy", "")), ".")
        for each in root.iter()
        if each.tag.endswith("circle")
    ]
    rows: dict[int, list[tuple[float, str]]] = {}
    for x, y, sign in [*wheels, *points_at]:
        rows.setdefault(int(y // 96), []).append((x, sign))
    return ["".join(sign for _, sign in sorted(rows[row])) for row in sorted(rows)]


def dials(svg: str) -> list[float]:
    """Where each hand points among the figures round it."""
    found = []
    for name in ("hand-start", "hand-end"):
        for hand in parts(svg, name):
            turn = re.fullmatch(r"rotate\((\S+) (\S+) (\S+)\)", hand.get("transform", ""))
            assert turn
            angle, x, y = (float(each) for each in turn.groups())
            ring = [
                (
                    math.degrees(
                        math.atan2(float(f.get("x", "")) - x, y + 5 - float(f.get("y", "")))
                    ),
                    f,
                )
                for f in parts(svg, "figure")
                if abs(float(f.get("x", "")) - x) < 80
            ]
            scale = {round(degrees) % 360: float(figure.text or "") for degrees, figure in ring}
            below = max(each for each in scale if each <= angle + 1e-6)
            step = scale[36] - scale[0]
            found.append(scale[below] + (angle - below) / 36 * step)
    return found


def seconds(shown: str) -> float:
    minutes, _, rest = shown.partition(":")
    return 60 * int(minutes) + float(rest)


def turned(before: float, after: float, found: Question) -> float:
    whole = float(found.values["whole"].split()[0])
    return whole + (after - before) % float(found.values["turn"].split()[0])


# How each question of an instrument is answered by who looks at the drawing alone.
READ: dict[str, Callable[[str, Question], float]] = {
    "read_u_gauge_equal": lambda svg, _: u_gauge(svg),
    "read_u_gauge_unequal": lambda svg, _: u_gauge(svg),
    "read_u_gauge_right": lambda svg, _: u_gauge(svg),
    "read_meniscus": lambda svg, _: limb(svg),
    "read_digital_zeroed": lambda svg, _: float(displays(svg)[1]) - float(displays(svg)[0]),
    "read_digital_kpa": lambda svg, _: float(displays(svg)[0]),
    "read_digital_inches": lambda svg, _: float(displays(svg)[0]),
    "read_draught": lambda svg, _: float(displays(svg)[0]),
    "read_digital_offset": lambda svg, _: float(displays(svg)[1]) - float(displays(svg)[0]),
    "zero_and_read": lambda svg, _: float(displays(svg)[1]) - float(displays(svg)[0]),
    "zero_and_read_fine": lambda svg, _: float(displays(svg)[1]) - float(displays(svg)[0]),
    "read_meter_metric": lambda svg, _: float(indexes(svg)[0]),
    "read_meter_imperial": lambda svg, _: float(indexes(svg)[0]),
    "read_gas_used": lambda svg, _: float(indexes(svg)[1]) - float(indexes(svg)[0]),
    "read_meter_rollover": lambda svg, _: 1e5 + float(indexes(svg)[1]) - float(indexes(svg)[0]),
    "read_meter_imperial_dial": lambda svg, found: turned(*dials(svg), found),
    "read_test_dial": lambda svg, _: dials(svg)[0],
    "read_gas_rate": lambda svg, _: (
        3600 * (float(indexes(svg)[1]) - float(indexes(svg)[0])) / seconds(displays(svg)[0])
    ),
    "read_pressure_loss": lambda svg, _: float(displays(svg)[0]) - float(displays(svg)[1]),
    "read_tightness_fall": lambda svg, _: float(displays(svg)[0]) - float(displays(svg)[1]),
    "read_stopwatch": lambda svg, _: seconds(displays(svg)[0]),
}


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
