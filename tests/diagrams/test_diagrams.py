"""Every drawing: readable, described, made of figures that are held, and the same each time."""

import re
from itertools import combinations
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from build_tools.diagrams import burner_curve, draw, expansion_vessel, thermistor_curve
from build_tools.diagrams.given import DrawingProblem, Figures
from build_tools.diagrams.kit import SMALL, WIDTH, Box, Sheet, text_width
from build_tools.diagrams.svg import shown
from build_tools.runtime import bundle
from build_tools.sources.project import stem_of
from tests.project import project

PROJECT = project()
BUNDLE = bundle.contents(PROJECT)
FIGURES: dict[str, Any] = BUNDLE["figures"]
TABLES: dict[str, Any] = BUNDLE["tables"]
READINGS: dict[str, Any] = PROJECT.one("scenario")["readings"]
FILES = {stem_of(each.file): each.value for each in PROJECT.of_kind("diagram")}
WITH_UNIT = re.compile(r"\d[\d.]*\s(?:mbar|kW|m³|mm|s)\b")

every_file = pytest.mark.parametrize("stem", sorted(FILES))


def drawn(
    stem: str,
    prefix: str = "one",
    readings: Any = READINGS,
    figures: Any = FIGURES,
    tables: Any = TABLES,
) -> str:
    words = FILES[stem]
    return draw.draw(
        words["draw"],
        words.get("params", {}),
        figures=figures,
        readings=readings,
        tables=tables,
        prefix=prefix,
        title=words["title"],
        alt=words["alt"],
    )


def sheet_of(stem: str) -> Sheet:
    words = FILES[stem]
    figures = Figures(FIGURES, READINGS, tables=TABLES)
    return draw.sheet(words["draw"], words.get("params", {}), figures, Sheet("one", "", ""))


@every_file
def test_a_drawing_has_a_title_and_a_text_alternative(stem: str):
    root = ET.fromstring(drawn(stem))  # noqa: S314 - our own drawing
    assert root.get("role") == "img"
    named = {each.get("id"): each for each in root if each.tag in ("title", "desc")}
    title, alt = (named[identity] for identity in root.attrib["aria-labelledby"].split())
    assert title.tag == "title"
    assert title.text == FILES[stem]["title"]
    assert alt.tag == "desc"
    assert len(alt.text or "") > 60
    assert "{" not in (alt.text or ""), "a figure in the alternative was not filled in"


@every_file
def test_words_keep_clear_of_one_another_and_of_the_edge(stem: str):
    sheet = sheet_of(stem)
    edge = Box(0, sheet.top, WIDTH, sheet.height)
    for words in sheet.words:
        box = words.box
        assert edge.left <= box.left <= box.right <= edge.right, words
        assert edge.top <= box.top <= box.bottom <= edge.bottom, words
    for one, other in combinations(sheet.words, 2):
        assert not one.box.overlaps(other.box), (one.text, other.text)


@every_file
def test_words_are_large_enough_on_a_phone(stem: str):
    # Of a screen of 390 pixels the margins of the page and the frame leave 322 for the drawing.
    assert min(words.size for words in sheet_of(stem).words) * 322 / WIDTH >= 14
    assert SMALL >= 14


@every_file
def test_two_drawings_on_one_page_share_no_id(stem: str):
    first, second = (set(re.findall(r'\bid="([^"]+)"', drawn(stem, each))) for each in "ab")
    assert first
    assert not first & second
    assert all(each.startswith("a-") for each in first)


@every_file
def test_the_same_figures_give_the_same_text(stem: str):
    assert drawn(stem) == drawn(stem)


@every_file
def test_nothing_is_fetched_and_no_style_is_set(stem: str):
    assert not re.search(r"href|url\(|https?:|<script|<style|\bstyle=", drawn(stem))


@every_file
def test_every_number_with_a_unit_comes_from_a_figure_or_a_reading(stem: str):
    """Move every figure that it names: no number with a unit may stay as it was."""
    before = WITH_UNIT.findall(_words(stem, READINGS, FIGURES, TABLES))
    after = WITH_UNIT.findall(_words(stem, *_moved()))
    assert len(before) == len(after)
    assert not [pair for pair in zip(before, after, strict=True) if pair[0] == pair[1]]


def _words(stem: str, readings: Any, figures: Any, tables: Any) -> str:
    text = drawn(stem, readings=readings, figures=figures, tables=tables)
    return " | ".join(ET.fromstring(text).itertext())  # noqa: S314 - our own drawing


def _moved() -> tuple[Any, Any, Any]:
    """Every reading, figure and distance with a value, each a third larger."""

    def larger(scalar: str) -> str:
        number, _, unit = scalar.partition(" ")
        return f"{float(number) * 1.3:.4g} {unit}".strip()

    readings = {
        name: {**each, "value": larger(each["value"]) if each["value"][0].isdigit() else ""}
        for name, each in READINGS.items()  # a word such as "done" is no figure
    }
    figures = {
        name: {
            **figure,
            "values": [
                {**dated_value, "value": dated_value["value"] and larger(dated_value["value"])}
                for dated_value in figure["values"]
            ],
        }
        for name, figure in FIGURES.items()
    }
    distances = TABLES["terminal_distances"]
    place = [column["name"] for column in distances["columns"]].index("distance")
    values = [
        {
            **dated_value,
            "rows": [
                [larger(cell) if number == place else cell for number, cell in enumerate(row)]
                for row in dated_value["rows"]
            ],
        }
        for dated_value in distances["values"]
    ]
    return readings, figures, {**TABLES, "terminal_distances": {**distances, "values": values}}


def test_every_drawing_is_used_by_a_file():
    assert {words["draw"] for words in FILES.values()} == set(draw.names())


def test_the_curve_gives_half_the_heat_at_a_quarter_of_the_pressure():
    # Flow through an orifice goes with the square root of the pressure across it.
    plate = burner_curve.Plate(pressure_max=16, input_max=24)
    assert plate.heat_input(4) == pytest.approx(12, rel=1e-12)
    assert plate.heat_input(16) == pytest.approx(24, rel=1e-12)


def test_a_vessel_at_twice_its_absolute_pre_charge_is_half_gas():
    # Boyle: the same gas at one temperature takes half the room at twice the absolute pressure.
    assert expansion_vessel.gas_share(1, 3, air=1) == pytest.approx(0.5, rel=1e-12)
    assert expansion_vessel.gas_share(1, 1, air=1) == 1


def test_the_sensor_curve_goes_by_its_constant():
    # By hand: 10 kΩ × exp(3977 × (1 ÷ 323.15 − 1 ÷ 298.15)) = 10 kΩ × exp(−1.03195) = 3.563 kΩ.
    names = ("sensor.resistance_nominal", "sensor.temperature_nominal", "sensor.beta_first")
    params = dict(zip(("nominal_resistance", "nominal_temperature", "beta"), names, strict=True))
    sensor = thermistor_curve.Sensor(Figures(FIGURES), params, "beta")
    assert sensor.resistance(50) == pytest.approx(3563, rel=1e-4)
    assert sensor.temperature(3563) == pytest.approx(50, abs=0.01)


def test_a_u_gauge_shows_half_the_pressure_on_each_limb():
    # 21 mbar in all: 10.5 down on one side and 10.5 up on the other.
    shown_words = [words.text for words in sheet_of("u_gauge_reading").words]
    assert shown_words.count("10.5\N{NO-BREAK SPACE}mbar") == 2
    assert "Add both: 21\N{NO-BREAK SPACE}mbar" in shown_words


@pytest.mark.parametrize(
    ("name", "params", "said"),
    [
        ("gas_vlave", {}, "There is no drawing 'gas_vlave'.*rename it to 'gas_valve'"),
        ("gas_valve", {"guage": "inlet"}, "There is no param 'guage'.*rename it to 'gauge'"),
        ("gas_valve", {"gauge": "outlet"}, "There is no way for gauge 'outlet'.*none, inlet, burn"),
        ("gas_valve", {"highlight": ["coyl"]}, "no part for highlight 'coyl'.*rename it to 'coil'"),
        ("u_gauge", {"pressure": "working_presure.inlet"}, "no figure or reading 'working_presure"),
        ("u_gauge", {"pressure": "burner_pressure.maximum"}, "has no value on .*that are held"),
        ("pressure_path", {}, "The param 'meter_standing' is missing"),
    ],
)
def test_what_cannot_be_drawn_is_said(name: str, params: dict[str, Any], said: str):
    with pytest.raises(DrawingProblem, match=said):
        draw.draw(name, params, figures=FIGURES, readings=READINGS, prefix="one", title="", alt="")


def test_the_value_of_a_figure_is_the_one_in_force_that_day():
    dated = {
        "values": [
            {"from": "2020-01-01", "until": "2025-12-31", "value": "18 mbar"},
            {"from": "2026-01-01", "until": None, "value": "24 mbar"},
        ]
    }
    said = [
        Figures({"a.b": dated}, day=bundle.date.fromisoformat(day)).text("a.b")
        for day in ("2025-12-31", "2026-01-01")
    ]
    assert said == ["18\N{NO-BREAK SPACE}mbar", "24\N{NO-BREAK SPACE}mbar"]


def test_numbers_are_written_without_a_tail():
    assert [shown(value) for value in (12.0, 1 / 3, 12, "M1 2")] == ["12", "0.33", "12", "M1 2"]


def test_words_take_more_room_when_longer_larger_or_bolder():
    plain = text_width("Gas valve", 15)
    assert plain < text_width("Gas valves", 15)
    assert plain < text_width("Gas valve", 16)
    assert plain < text_width("Gas valve", 15, bold=True)


def test_strips_round_a_terminal_are_as_wide_as_the_table_says_to_scale():
    # A fanned balanced flue: 300 mm from a corner, 150 mm from a pipe (Approved Document J).
    sheet = sheet_of("terminal_distances")
    strips = [each for each in sheet.parts if each.get("fill-opacity") == "0.25"]
    tall = [float(each.get("width", 0)) for each in strips if float(each.get("height", 0)) > 250]
    assert tall == pytest.approx([300 * 0.16, 150 * 0.16])
    assert "from a corner 300\N{NO-BREAK SPACE}mm" in sheet.alt


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ({"position": "Z"}, "no row with position Z on 2026-11-25.*that are held"),
        ({"position": "H", "flue": "fanned_balanced"}, None),
    ],
)
def test_a_cell_of_a_table_is_found_by_its_row(row: dict[str, str], said: str | None):
    figures = Figures({}, day=bundle.date(2026, 11, 25), tables=TABLES)
    if said is None:
        assert figures.cell("terminal_distances", "distance", **row) == "300 mm"
        return
    with pytest.raises(DrawingProblem, match=said):
        figures.cell("terminal_distances", "distance", **row)


def test_a_table_misspelt_is_named():
    with pytest.raises(DrawingProblem, match=r"no table 'terminal_distance'.*terminal_distances'"):
        Figures({}, tables=TABLES).cell("terminal_distance", "distance")
