"""What the reader typed is still there: after a reload, back and forward, a dead worker."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import NewPage, calculators

READINGS = {"volume": "0.1", "elapsed": "2"}
GAS_RATE = "3.000\u00a0m³/h"  # 0.1 m³ in 2 min, by hand


@pytest.fixture
def answered(new_page: NewPage) -> CalculatorPage:
    shown = CalculatorPage(new_page("calculators/gas_rate.html"), "gas_rate")
    shown.choose("elapsed.unit", "min")
    shown.enter(**READINGS)
    shown.expect_answer("flow_rate", GAS_RATE)
    return shown


def expect_all_there(shown: CalculatorPage) -> None:
    for name, value in READINGS.items():
        expect(shown.control(name)).to_have_value(value)
    expect(shown.control("elapsed.unit")).to_have_value("min")
    shown.expect_answer("flow_rate", GAS_RATE)


def test_reload_keeps_readings_and_answers_again(answered):
    answered.page.reload()
    expect_all_there(answered)


def test_back_and_forward_keep_readings(answered):
    answered.page.locator("a[href$='index.html'], a[href='..'], a[href='../']").first.click()
    answered.page.wait_for_url("**/index.html")
    answered.page.go_back()
    expect_all_there(answered)
    answered.page.go_forward()
    answered.page.wait_for_url("**/index.html")
    answered.page.go_back()
    expect_all_there(answered)


def test_cleared_readings_stay_cleared(answered):
    answered.press("data-hb-clear")
    answered.page.reload()
    answered.expect_state("ready")
    expect(answered.control("volume")).to_have_value("")


def test_choice_is_kept(answered):
    answered.choose("method", "dial")
    answered.page.reload()
    expect(answered.control("revolutions")).to_be_visible()
    expect(answered.control("volume")).to_be_hidden()


def test_page_works_where_storage_is_refused(new_page):
    page = new_page("index.html")
    page.add_init_script(
        """for (const store of ['sessionStorage', 'localStorage']) {
            Object.defineProperty(window, store, {get() { throw new DOMException('refused'); }});
        }"""
    )
    page.goto(page.url.replace("index.html", "calculators/gas_rate.html"))
    shown = CalculatorPage(page, "gas_rate")
    shown.enter(volume="0.1", elapsed="120")
    shown.expect_answer("flow_rate", GAS_RATE)


def test_worker_goes_on_when_the_reader_moves_to_another_page(new_page):
    page = new_page("calculators/gas_rate.html")
    CalculatorPage(page, "gas_rate").expect_state("ready")
    (worker,) = calculators(page)
    page.locator("#hb-main a[href='burner_pressure.html']").first.click()
    page.wait_for_url("**/calculators/burner_pressure.html")
    shown = CalculatorPage(page, "burner_pressure")
    shown.press("data-hb-fill-example")
    shown.expect_state("answered")
    assert calculators(page) == [worker]
