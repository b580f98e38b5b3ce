"""Charts in the browser: drawn as the build draws them, and the reader's point moves at once."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from calcs.engine.registry import calculators
from tests.browser.accessibility import faults_in_both_schemes
from tests.browser.calculator_page import START_MS, CalculatorPage
from tests.browser.conftest import EMPTY, Warm

WITH_CHARTS = [name for name, each in calculators().items() if each.charts]
POINT = '[data-hb-own] [data-hb-series="left"] .hb-chart__point'
READINGS = {"plate_max": "16", "plate_input": "24", "left_max": "4"}

DRAWING_SCRIPT = 'script[src$="/chart.js"]'


@pytest.fixture
def burner(warm: Warm) -> CalculatorPage:
    return CalculatorPage(warm("calculators/burner_pressure.html"), "burner_pressure")


def test_point_of_the_reader_moves_with_the_reading(burner):
    burner.enter(**READINGS)
    point = burner.root.locator(POINT)
    expect(point).to_have_count(1, timeout=START_MS)
    before = point.bounding_box()
    burner.enter(left_max="9")
    # A reading of 9 of 16 mbar: three quarters of 24 kW, by hand.
    table = burner.root.locator("[data-hb-own] .hb-chart__data")
    expect(table).to_contain_text("18.00")
    after = point.bounding_box()
    assert before
    assert after
    assert after["x"] > before["x"] + 50
    assert after["y"] < before["y"] - 30
    said = burner.root.locator("[data-hb-own] .hb-chart__drawing").get_attribute("aria-label")
    assert "As left: 9.0\u00a0mbar, 18.00\u00a0kW" in str(said)


def test_chart_keeps_its_place_and_its_open_table_while_readings_change(burner):
    burner.enter(**READINGS)
    expect(burner.root.locator(POINT)).to_have_count(1, timeout=START_MS)
    burner.root.locator("[data-hb-own] .hb-chart__summary").click()
    cell = burner.root.locator("[data-hb-own] .hb-chart__data td", has_text="4.0 ±")
    expect(cell).to_be_visible()
    drawing = burner.root.locator("[data-hb-own] .hb-chart__drawing")
    size = "svg => [svg.getBoundingClientRect().width, svg.getBoundingClientRect().height]"
    before = drawing.evaluate(size)
    burner.enter(left_max="5")
    expect(burner.root.locator(".hb-chart__data td", has_text="5.0 ±")).to_be_visible()
    assert drawing.evaluate(size) == before


def test_chart_goes_with_the_answer_and_the_example_comes_back_with_its_own(burner):
    example = burner.root.locator("[data-hb-charts]").inner_html()
    burner.enter(**READINGS)
    expect(burner.root.locator(POINT)).to_have_count(1, timeout=START_MS)
    burner.enter(left_max="")
    burner.expect_state("refused")
    expect(burner.root.locator("[data-hb-charts]")).to_be_hidden()
    burner.press("data-hb-clear")
    burner.expect_state("ready")
    assert burner.root.locator("[data-hb-charts]").inner_html() == example


def test_answer_without_a_chart_shows_none(warm):
    shown = CalculatorPage(warm("calculators/co_in_room.html"), "co_in_room")
    expect(shown.root.locator("[data-hb-charts] svg").first).to_be_visible()
    shown.choose("question", "alarm")
    shown.choose("sounded", "yes")
    shown.enter(alarm_gas="100", alarm_time="20")
    shown.expect_state("answered")
    expect(shown.root.locator("[data-hb-charts]")).to_be_hidden()


def test_without_what_draws_the_answer_stands_and_no_old_chart_does(browser, address):
    context = browser.new_context(locale="en-GB")
    context.route("**/chart.js", lambda route: route.abort())
    page = context.new_page()
    page.goto(f"{address}calculators/burner_pressure.html")
    shown = CalculatorPage(page, "burner_pressure")
    shown.enter(**READINGS)
    shown.expect_answer("input_left_max", "12.00\u00a0kW")
    expect(shown.root.locator("[data-hb-charts]")).to_be_hidden()
    context.close()


def test_page_without_a_chart_fetches_nothing_that_draws(new_page):
    shown = CalculatorPage(new_page("calculators/gas_rate.html"), "gas_rate")
    shown.enter(volume="0.1", elapsed="120")
    shown.expect_state("answered")
    expect(shown.page.locator(DRAWING_SCRIPT)).to_have_count(0)
    # A move that swaps the page without a reload: the script follows it.
    shown.page.locator('#related a[href="burner_pressure.html"]').click()
    expect(shown.page.locator(DRAWING_SCRIPT)).to_have_count(1)


# Once the page is drawn at its new width: until then Chromium may have SVG text where it was.
TEXTS = """() => new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn))).then(() =>
    [...document.querySelectorAll('.hb-chart__drawing')].map((svg) => {
    const box = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll('text')];
    return {
        least: Math.min(...texts.map((text) =>
            parseFloat(getComputedStyle(text).fontSize) * box.width
                / svg.viewBox.baseVal.width)),
        outside: texts.map((text) => text.getBoundingClientRect()).filter((text) =>
            text.left < box.left - 1 || text.right > box.right + 1 ||
            text.top < box.top - 1 || text.bottom > box.bottom + 1).length,
    };
}))"""


def test_text_of_a_chart_is_large_enough_and_inside_it(used_page):
    page = used_page(EMPTY)
    site = page.url.removesuffix(EMPTY)
    widths = [390, 810, 1280]
    wrong = {}
    for calculator in WITH_CHARTS:
        page.goto(f"{site}calculators/{calculator}.html")
        for width in widths:
            page.set_viewport_size({"width": width, "height": 844})
            sizes = page.evaluate(TEXTS)
            assert sizes, calculator
            if not all(size["least"] >= 14 and size["outside"] == 0 for size in sizes):
                wrong[calculator, width] = sizes
        widths.reverse()  # the next page begins with the width that is there
    assert wrong == {}


def test_axe_finds_nothing_in_a_live_chart(warm):
    page = warm("calculators/co_in_room.html")
    shown = CalculatorPage(page, "co_in_room")
    shown.press("data-hb-fill-example")
    shown.expect_state("answered")
    expect(shown.root.locator("[data-hb-own] .hb-chart__point").first).to_be_visible()
    shown.root.locator(".hb-chart__summary").click()
    assert faults_in_both_schemes(page, "hb-calculator") == {}


def test_step_of_a_procedure_draws_the_readers_chart_and_no_example(warm):
    page = warm("procedures/burner_pressure.html")
    shown = CalculatorPage(page, "burner_pressure")
    page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
    place = shown.root.locator("[data-hb-charts]")
    expect(place).to_be_hidden()
    shown.enter(**READINGS)
    expect(shown.root.locator(POINT)).to_have_count(1, timeout=START_MS)
    expect(place).to_be_visible()
