"""The drawings of gauges read by their own coordinates, as a reader's eye does."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from xml.etree import ElementTree as ET

from calcs.practice.draw import Question

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
