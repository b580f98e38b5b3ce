"""The form of a calculator: fields, units, methods, and when its answer goes."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.calculator_page import GAS_RATE, READINGS, CalculatorPage
from tests.browser.conftest import Warm

BY_CUBIC_FEET = "3.00\u00a0m³/h"  # GAS_RATE, by an index that is coarser


@pytest.fixture
def gas_rate(warm: Warm) -> CalculatorPage:
    return CalculatorPage(warm("calculators/gas_rate.html"), "gas_rate")


def by_cubic_feet(gas_rate: CalculatorPage) -> None:
    """The meter counts in them: gas used in another unit than its meter's is asked about."""
    gas_rate.root.locator("[data-hb-more] summary").click()
    gas_rate.choose("meter", "meter_index_imperial")


def test_same_gas_in_another_unit_is_the_same_answer(gas_rate):
    gas_rate.enter(**READINGS)
    gas_rate.expect_answer("flow_rate", GAS_RATE)
    by_cubic_feet(gas_rate)
    gas_rate.choose("volume.unit", "ft**3")
    gas_rate.expect_answer("flow_rate", "0.08\u00a0m³/h")  # 0.1 ft³: 0.0028317 m³ in 120 s
    gas_rate.enter(volume="3.53146667")
    gas_rate.expect_answer("flow_rate", BY_CUBIC_FEET)
    gas_rate.choose("elapsed.unit", "min")
    gas_rate.enter(elapsed="2")
    gas_rate.expect_answer("flow_rate", BY_CUBIC_FEET)


def test_unit_typed_with_the_number_counts(gas_rate):
    by_cubic_feet(gas_rate)
    gas_rate.enter(volume="3.53146667 ft³", elapsed="2 min")
    gas_rate.expect_answer("flow_rate", BY_CUBIC_FEET)


def test_example_gives_way_to_the_answer_and_comes_back(gas_rate):
    example = gas_rate.result()
    gas_rate.enter(volume="0.1")
    gas_rate.expect_state("refused")
    expect(gas_rate.root.locator("[data-hb-result]")).to_be_hidden()
    gas_rate.enter(elapsed="120")
    gas_rate.expect_answer("flow_rate", GAS_RATE)
    gas_rate.press("data-hb-clear")
    gas_rate.expect_state("ready")
    assert gas_rate.result() == example
    expect(gas_rate.control("volume")).to_have_value("")


def test_answer_goes_when_its_readings_do(gas_rate):
    gas_rate.enter(**READINGS)
    gas_rate.expect_answer("flow_rate", GAS_RATE)
    gas_rate.enter(elapsed="")
    gas_rate.expect_state("refused")
    expect(gas_rate.root.locator("[data-hb-result]")).to_be_hidden()
    expect(gas_rate.root.locator("[data-hb-waiting]")).to_contain_text("Time taken")


def test_field_of_another_method_is_hidden_and_not_sent(gas_rate):
    gas_rate.enter(**READINGS)
    gas_rate.expect_state("answered")
    gas_rate.choose("method", "index")
    expect(gas_rate.control("volume")).to_be_hidden()
    expect(gas_rate.control("first_reading")).to_be_visible()
    gas_rate.enter(first_reading="1234.5", second_reading="1234.6")
    gas_rate.expect_answer("flow_rate", GAS_RATE)


def test_own_instrument_asks_for_its_step_and_accuracy(gas_rate):
    gas_rate.root.locator("[data-hb-more] summary").click()
    expect(gas_rate.control("stopwatch_resolution")).to_be_hidden()
    gas_rate.choose("stopwatch", "own")
    expect(gas_rate.control("stopwatch_resolution")).to_be_visible()
    gas_rate.enter(**READINGS)
    gas_rate.expect_state("refused")
    gas_rate.enter(stopwatch_resolution="0.5", stopwatch_accuracy="0.1")
    gas_rate.expect_answer("flow_rate", GAS_RATE)


def test_enter_key_asks_for_the_answer_and_moves_to_it(gas_rate):
    gas_rate.enter(**READINGS)
    gas_rate.control("elapsed").press("Enter")
    gas_rate.expect_state("answered")
    expect(gas_rate.root.locator("[data-hb-result-title]")).to_be_focused()


def test_latest_of_many_keystrokes_wins(gas_rate):
    gas_rate.enter(**READINGS)
    gas_rate.expect_state("answered")
    gas_rate.page.evaluate(
        """root => {
            const control = root.querySelector('[name=elapsed]');
            for (let elapsed = 60; elapsed <= 240; elapsed += 1) {
                control.value = String(elapsed);
                control.dispatchEvent(new Event('input', {bubbles: true}));
            }
        }""",
        gas_rate.root.element_handle(),
    )
    gas_rate.expect_answer("flow_rate", "1.500\u00a0m³/h")  # 0.1 m³ in 240 s


def test_two_calculators_on_one_page_keep_apart(warm):
    page: Page = warm("procedures/burner_pressure.html")
    ids = page.evaluate("[...document.querySelectorAll('[id]')].map(element => element.id)")
    assert sorted(ids) == sorted(set(ids))
    for fold in page.locator("details:has(hb-calculator)").all():
        fold.evaluate("fold => { fold.open = true; }")
    first, second = (CalculatorPage(page, stem) for stem in ("working_pressure", "gas_rate"))
    for shown in (first, second):
        shown.expect_state("ready")
    first.enter(meter_working="20.6", inlet_working="19.8")
    first.expect_answer("pressure_loss", "0.80\u00a0mbar")
    second.expect_state("ready")
    before = first.result()
    second.enter(**READINGS)
    second.expect_answer("flow_rate", GAS_RATE)
    assert first.result() == before
