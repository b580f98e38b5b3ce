"""What the reader typed is still there: after a reload, back and forward, a dead worker."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import NewPage, UsedPage, Warm, calculators

READINGS = {"volume": "0.1", "elapsed": "2"}
GAS_RATE = "3.000\u00a0m³/h"  # 0.1 m³ in 2 min, by hand


def answered(page: Page) -> CalculatorPage:
    shown = CalculatorPage(page, "gas_rate")
    shown.choose("elapsed.unit", "min")
    shown.enter(**READINGS)
    shown.expect_answer("flow_rate", GAS_RATE)
    return shown


def expect_all_there(shown: CalculatorPage) -> None:
    for name, value in READINGS.items():
        expect(shown.control(name)).to_have_value(value)
    expect(shown.control("elapsed.unit")).to_have_value("min")
    shown.expect_answer("flow_rate", GAS_RATE)


def test_reload_keeps_readings_and_answers_again_and_the_cleared_stay_cleared(new_page: NewPage):
    shown = answered(new_page("calculators/gas_rate.html"))
    shown.page.reload()
    expect_all_there(shown)
    shown.press("data-hb-clear")
    shown.page.reload()
    shown.expect_state("ready")
    expect(shown.control("volume")).to_have_value("")


def test_back_and_forward_keep_readings(warm: Warm):
    shown = answered(warm("calculators/gas_rate.html"))
    shown.page.locator("a[href$='index.html'], a[href='..'], a[href='../']").first.click()
    shown.page.wait_for_url("**/index.html")
    shown.page.go_back()
    expect_all_there(shown)
    shown.page.go_forward()
    shown.page.wait_for_url("**/index.html")
    shown.page.go_back()
    expect_all_there(shown)


def test_choice_is_kept(used_page: UsedPage):
    shown = CalculatorPage(used_page("calculators/gas_rate.html"), "gas_rate")
    expect(shown.control("volume")).to_be_visible()
    shown.choose("method", "dial")
    shown.page.reload()
    expect(shown.control("revolutions")).to_be_visible()
    expect(shown.control("volume")).to_be_hidden()


STORAGE_REFUSED = """for (const store of ['sessionStorage', 'localStorage']) {
    Object.defineProperty(window, store, {get() { throw new DOMException('refused'); }});
}"""


def test_page_works_where_storage_is_refused(new_page: NewPage):
    page = new_page(
        "calculators/gas_rate.html", before=lambda page: page.add_init_script(STORAGE_REFUSED)
    )
    shown = CalculatorPage(page, "gas_rate")
    shown.enter(volume="0.1", elapsed="120")
    shown.expect_answer("flow_rate", GAS_RATE)


def test_worker_goes_on_when_the_reader_moves_to_another_page(warm: Warm):
    page = warm("calculators/gas_rate.html")
    CalculatorPage(page, "gas_rate").expect_state("ready")
    (worker,) = calculators(page)
    page.locator("#hb-main a[href='burner_pressure.html']").first.click()
    page.wait_for_url("**/calculators/burner_pressure.html")
    shown = CalculatorPage(page, "burner_pressure")
    shown.press("data-hb-fill-example")
    shown.expect_state("answered")
    assert calculators(page) == [worker]
