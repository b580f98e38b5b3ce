"""A worker that dies takes no reading with it: another answers, or the page says why none does."""

from __future__ import annotations

import datetime as dt

from playwright.sync_api import Page, Worker, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import NewPage, calculators

NOON = dt.datetime(2026, 11, 25, 12, 0, tzinfo=dt.UTC)
GAS_RATE = "3.000\u00a0m³/h"  # 0.1 m³ in 120 s, by hand

KILLED = "killed by a test"
# The next question reaches the worker, and its answer never leaves it.
DIES = f"""() => {{
    self.postMessage = () => setTimeout(() => {{ throw new Error('{KILLED}'); }});
}}"""
HANGS = "() => { self.postMessage = BroadcastChannel.prototype.postMessage = () => {}; }"


def sends(page: Page, worker: str) -> None:
    """Have the page get this script in place of its worker's."""
    answer = {"body": worker, "content_type": "text/javascript"}
    page.context.route("**/worker.js*", lambda route: route.fulfill(**answer))


def only_worker(page: Page) -> Worker:
    (worker,) = calculators(page)
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
    assert calculators(page) == [another.value]


def test_worker_that_hangs_is_replaced_when_its_time_is_up(new_page: NewPage):
    page = new_page("calculators/gas_rate.html", before=lambda page: page.clock.install(time=NOON))
    shown = CalculatorPage(page, "gas_rate")
    shown.expect_state("ready")
    shown.control("volume").fill("0.1")
    shown.expect_state("refused")
    only_worker(page).evaluate(HANGS)
    shown.control("elapsed").fill("120")
    shown.expect_state("working")
    expect(shown.root.locator("[data-hb-status]")).to_contain_text("Working")
    page.clock.fast_forward("00:10")
    shown.expect_answer("flow_rate", GAS_RATE)
    expect(shown.control("volume")).to_have_value("0.1")


def test_reader_is_told_of_a_long_wait_and_can_end_it(new_page: NewPage):
    page = new_page("calculators/gas_rate.html")
    shown = CalculatorPage(page, "gas_rate")
    shown.enter(volume="0.1", elapsed="100")
    shown.expect_answer("flow_rate", "3.600\u00a0m³/h")  # 0.1 m³ in 100 s, by hand
    only_worker(page).evaluate(HANGS)
    shown.control("elapsed").fill("120")
    stop = shown.root.locator("[data-hb-stop]")
    expect(stop).to_be_visible()
    expect(shown.root.locator("[data-hb-waiting]")).to_contain_text("longer than usual")
    expect(shown.root.locator("[data-hb-result]"), "of other readings").to_be_hidden()
    stop.click()
    shown.expect_state("stopped")
    expect(shown.root.locator("[data-hb-waiting]")).to_contain_text("You stopped the calculator.")
    expect(stop).to_be_hidden()
    shown.press("data-hb-again")
    shown.expect_answer("flow_rate", GAS_RATE)


def test_both_tries_of_a_calculator_that_hangs_end_within_their_time(new_page: NewPage):
    def prepare(page: Page) -> None:
        page.clock.install(time=NOON)
        sends(page, "self.postMessage({stage: 'ready', way: 'snapshot'});")

    page = new_page("calculators/gas_rate.html", before=prepare)
    shown = CalculatorPage(page, "gas_rate")
    shown.expect_state("ready")
    shown.enter(volume="0.1", elapsed="120")
    shown.expect_state("working")
    waiting = shown.root.locator("[data-hb-waiting]")
    for words in ("did not answer", "took too long"):
        page.clock.fast_forward("00:10")
        expect(waiting).to_contain_text(words, timeout=10_000)
    shown.expect_state("stopped")


def test_page_says_why_when_no_worker_answers_and_starts_again(new_page: NewPage):
    # A worker that fails before the page listens to it is an error of the page.
    broken = f"self.addEventListener('message', () => {{ throw new Error('{KILLED}'); }});"
    page = new_page(
        "calculators/gas_rate.html", before=lambda page: sends(page, broken), meant=KILLED
    )
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
