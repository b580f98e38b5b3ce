"""A worker that dies takes no reading with it: another answers, or the page says why none does."""

from __future__ import annotations

import datetime as dt

from playwright.sync_api import Page, Worker, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import NewPage

NOON = dt.datetime(2026, 11, 25, 12, 0, tzinfo=dt.UTC)
GAS_RATE = "3.000\u00a0m³/h"  # 0.1 m³ in 120 s, by hand

# The next question reaches the worker, and its answer never leaves it.
DIES = """() => {
    self.postMessage = () => setTimeout(() => { throw new Error('killed by a test'); });
}"""
HANGS = "() => { self.postMessage = () => {}; }"


def only_worker(page: Page) -> Worker:
    (worker,) = page.workers
    return worker


def test_worker_that_dies_over_a_question_is_replaced_and_the_question_answered(new_page: NewPage):
    page = new_page("calculators/gas_rate.html")
    shown = CalculatorPage(page, "gas_rate")
    shown.expect_state("ready")
    dying = only_worker(page)
    shown.control("volume").fill("0.1")
    shown.expect_state("refused")
    dying.evaluate(DIES)
    with page.expect_worker() as another:
        shown.control("elapsed").fill("120")
    shown.expect_answer("flow_rate", GAS_RATE)
    expect(shown.control("volume")).to_have_value("0.1")
    assert page.workers == [another.value]


def test_worker_that_hangs_is_replaced_when_its_time_is_up(new_page: NewPage):
    page = new_page("calculators/gas_rate.html")
    page.clock.install(time=NOON)
    page.reload()
    shown = CalculatorPage(page, "gas_rate")
    shown.expect_state("ready")
    shown.control("volume").fill("0.1")
    shown.expect_state("refused")
    only_worker(page).evaluate(HANGS)
    shown.control("elapsed").fill("120")
    shown.expect_state("working")
    expect(shown.root.locator("[data-hb-status]")).to_contain_text("Working")
    page.clock.fast_forward("02:00")
    shown.expect_answer("flow_rate", GAS_RATE)
    expect(shown.control("volume")).to_have_value("0.1")


def test_page_says_why_when_no_worker_answers_and_starts_again(new_page: NewPage):
    page = new_page("index.html")
    broken = "self.addEventListener('message', () => { throw new Error('killed by a test'); });"
    kind = "text/javascript"
    page.context.route("**/worker.js*", lambda route: route.fulfill(body=broken, content_type=kind))
    page.goto(page.url.replace("index.html", "calculators/gas_rate.html"))
    shown = CalculatorPage(page, "gas_rate")
    shown.enter(volume="0.1", elapsed="120")
    shown.expect_state("stopped")
    expect(shown.root.locator("[data-hb-waiting]")).to_contain_text("Your readings are kept")
    expect(shown.root.locator("[data-hb-result]")).to_be_hidden()
    page.context.unroute("**/worker.js*")
    shown.press("data-hb-again")
    shown.expect_answer("flow_rate", GAS_RATE)
    # The button is gone that had the focus.
    expect(shown.root.locator("[data-hb-result-title]")).to_be_focused()
    expect(shown.control("volume")).to_have_value("0.1")
