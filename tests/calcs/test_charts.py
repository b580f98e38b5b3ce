"""Charts: their points lie where the answers say, they stay small, and a build draws them alike."""

from __future__ import annotations

import json
import math
from html.parser import HTMLParser
from typing import Any

import pytest

from build_tools.pages import drawn_charts
from calcs.bridge import Bridge
from calcs.engine.registry import calculators
from tests.inline import inline
from tests.tables.every_row import every_row
from tests.tables.rows import Row, rows

MOST_BYTES = 6000  # of one chart: an answer goes from worker to page at every keystroke
ROWS = [row for row in rows() if calculators()[row.calculator].charts]
KINDS = {"line", "limit", "points", "marks"}


def charts_of(row: Row, bridge: Bridge) -> list[dict[str, Any]]:
    reply = json.loads(bridge.answer(json.dumps(row.request)))
    found: list[dict[str, Any]] = reply.get("answer", {}).get("charts", [])
    return found


def series_of(chart: dict[str, Any]) -> dict[str, list[Any]]:
    return {one["name"]: [point for point in one["points"] if point] for one in chart["series"]}


@every_row(ROWS)
def test_chart_is_small_and_made_of_numbers(row: Row, bridge: Bridge):
    shapes = {shape.name: shape for shape in calculators()[row.calculator].charts}
    for chart in charts_of(row, bridge):
        assert len(json.dumps(chart)) < MOST_BYTES
        # The place of a series decides what it looks like: all are there, in one order.
        assert tuple(one["name"] for one in chart["series"]) == shapes[chart["name"]].series
        for one in chart["series"]:
            assert one["kind"] in KINDS
            for point in filter(None, one["points"]):
                assert len(point) in (2, 4)
                assert all(math.isfinite(value) for value in point)
                assert all(width >= 0 for width in point[2:])


def test_every_chart_is_drawn_in_some_row(bridge: Bridge):
    given = {(row.calculator, chart["name"]) for row in ROWS for chart in charts_of(row, bridge)}
    declared = {(name, shape.name) for name, each in calculators().items() for shape in each.charts}
    assert given == declared


@every_row(row for row in ROWS if row.calculator == "burner_pressure")
def test_burner_readings_lie_on_the_curve(row: Row, bridge: Bridge):
    """By the law itself: input over pressure's root is one number for every point."""
    for chart in charts_of(row, bridge):
        points = [point for group in series_of(chart).values() for point in group if point[0]]
        shares = [height / math.sqrt(pressure) for pressure, height, *_ in points]
        assert max(shares) == pytest.approx(min(shares), rel=2e-5)


@every_row(row for row in ROWS if row.calculator.startswith("pipe_"))
def test_run_ends_at_the_loss_that_is_answered(row: Row, bridge: Bridge):
    reply = json.loads(bridge.answer(json.dumps(row.request))).get("answer")
    if reply is None:
        return
    values = {one["name"]: one for one in reply["answers"]}
    points = series_of(reply["charts"][0])
    ((_, loss, _, expanded_uncertainty),) = points["worst_appliance"]
    assert loss == pytest.approx(values["worst_loss"]["value"], rel=1e-5, abs=1e-9)
    assert expanded_uncertainty == pytest.approx(
        values["worst_loss"]["uncertainty"] or 0.0, rel=1e-5
    )
    lengths = [place for place, *_ in points["worst"]]
    assert lengths == sorted(lengths)
    assert points["worst"][0] == [0.0, 0.0]
    assert points["worst"][-1] == points["worst_appliance"][0][:2]


@every_row(row for row in ROWS if row.calculator == "combustion_efficiency")
def test_efficiency_is_drawn_where_it_is_answered_and_falls_as_the_flue_gets_hotter(
    row: Row, bridge: Bridge
):
    reply = json.loads(bridge.answer(json.dumps(row.request))).get("answer")
    if reply is None:
        return
    values = {one["name"]: one["value"] for one in reply["answers"]}
    points = series_of(reply["charts"][0])
    for basis in ("net", "gross"):
        ((_, height, *_),) = points[f"measured_{basis}"]
        assert height == pytest.approx(values[f"efficiency_{basis}"], rel=1e-5)
        heights = [one for _, one in points[basis]]
        assert heights == sorted(heights, reverse=True)


def chart(**changes: Any) -> dict[str, Any]:
    """A chart typed by hand."""
    axis = {"unit": "mbar", "text": "mbar", "places": 1, "scale": "linear"}
    return {
        "name": "along",
        "label": "Loss < gain &amp more",
        "x": {**axis, "label": "Length"},
        "y": {**axis, "label": "Loss", "scale": changes.get("scale", "linear")},
        "series": [
            {"name": "way", "label": "The way", "kind": "line", "points": changes["line"]},
            {"name": "end", "label": "The end", "kind": "points", "points": changes["points"]},
        ],
    }


class Elements(HTMLParser):
    """Every element of a piece of HTML, with its attributes and all text inside it."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[dict[str, str]] = []
        self.open: list[dict[str, str]] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = {name: value or "" for name, value in attrs} | {"tag": tag, "text": ""}
        self.found.append(element)
        self.open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop()["tag"] == tag

    def handle_data(self, data: str) -> None:
        for element in self.open:
            element["text"] += data

    def having(self, name: str, value: str) -> list[dict[str, str]]:
        return [each for each in self.found if each.get(name) == value]

    def texts(self, tag: str) -> list[str]:
        return [each["text"] for each in self.having("tag", tag)]


def drawn(**changes: Any) -> Elements:
    return Elements(drawn_charts.drawn([chart(**changes)]))


def test_drawing_says_in_words_and_in_a_table_what_it_shows():
    figure = drawn(line=[[0, 0], [8, 4]], points=[[8, 4, 0, 0.25]])
    (svg,) = figure.having("role", "img")
    assert svg["aria-label"].replace("\N{NO-BREAK SPACE}", " ") == (
        "Loss < gain &amp more. The way: from 0.0 mbar, 0.0 mbar to 8.0 mbar, 4.0 mbar. "
        "The end: 8.0 mbar, 4.0 mbar."
    )
    assert figure.texts("td") == ["0.0", "0.0", "8.0", "4.0", "8.0", "4.0 ± 0.25"]
    assert figure.texts("th") == ["Length (mbar)", "Loss (mbar)", "The way", "The end"]
    assert figure.texts("figcaption") == ["Loss < gain &amp more"]


def test_drawing_leaves_out_what_has_no_points_but_keeps_its_looks():
    both = drawn(line=[[0, 0], [8, 4]], points=[[8, 4]])
    alone = drawn(line=[], points=[[8, 4]])
    assert alone.texts("span") == ["The end"]
    shapes = [
        {each["d"] for each in figure.having("class", "hb-chart__point")}
        for figure in (both, alone)
    ]
    assert shapes[0] == shapes[1]


def test_line_breaks_where_there_is_no_point():
    whole = drawn(line=[[0, 0], [4, 2], [8, 4]], points=[])
    broken = drawn(line=[[0, 0], [4, 2], None, [4, 2], [8, 4]], points=[])
    starts = [
        sum(each.get("d", "").count("M") for each in figure.having("tag", "path"))
        for figure in (whole, broken)
    ]
    assert starts[1] == starts[0] + 1


def test_logarithmic_axis_shows_round_numbers_and_holds_a_uncertainty_that_reaches_below_nought():
    figure = drawn(line=[[0, 0.3], [8, 100]], points=[[4, 1, 0, 2]], scale="log")
    assert {"0.5", "1", "2", "5", "10", "20", "50", "100"} <= set(figure.texts("text"))
    assert not [each for each in figure.found if "NaN" in "".join(each.values())]


def test_drawing_has_nothing_that_a_strict_policy_forbids():
    assert inline(drawn_charts.drawn([chart(line=[[0, 0], [8, 4]], points=[[8, 4, 1, 1]])])) == []


def test_same_chart_is_drawn_to_the_same_byte(tmp_path, monkeypatch: pytest.MonkeyPatch):
    asked = [chart(line=[[0, 0], [8, 4]], points=[[8, 4, 1, 1]])]
    first = drawn_charts.drawn(asked)
    monkeypatch.setattr(drawn_charts, "CACHE", tmp_path / "another")
    assert drawn_charts.drawn(asked) == first
    assert [path.suffix for path in (tmp_path / "another").iterdir()] == [".html"]


def test_no_chart_needs_no_drawing():
    assert drawn_charts.drawn([]) == ""
