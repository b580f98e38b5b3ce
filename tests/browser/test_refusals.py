"""What the reader is told of a reading that gives no answer, where and when."""

from __future__ import annotations

import datetime as dt

import pytest
from playwright.sync_api import expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import NewPage, Warm

NOON = dt.datetime(2026, 11, 25, 12, 0, tzinfo=dt.UTC)


@pytest.fixture
def gas_rate(warm: Warm) -> CalculatorPage:
    shown = CalculatorPage(warm("calculators/gas_rate.html"), "gas_rate")
    shown.expect_state("ready")
    return shown


def label_of(shown: CalculatorPage, name: str) -> str:
    return shown.root.locator(f'[data-hb-field="{name}"] [data-hb-label]').inner_text()


def test_asking_outright_names_each_field_and_moves_to_the_summary_whose_lines_lead_to_them(
    gas_rate,
):
    gas_rate.enter(volume="500")
    gas_rate.submit()
    summary = gas_rate.root.locator("[data-hb-summary]")
    expect(summary).to_be_focused()
    expect(summary).to_be_in_viewport()
    for name in ("volume", "elapsed"):
        expect(gas_rate.refusal(name)).to_contain_text(label_of(gas_rate, name))
        expect(gas_rate.control(name)).to_have_attribute("aria-invalid", "true")
        expect(summary).to_contain_text(str(gas_rate.refusal(name).text_content()))
    expect(gas_rate.refusal("volume")).to_contain_text("0.0001 and 100 m³")
    expect(gas_rate.refusal("volume")).to_contain_text("500 m³")
    links = gas_rate.root.locator("[data-hb-summary] a")
    expect(links).to_have_count(2)
    for link, name in zip(links.all(), ("volume", "elapsed"), strict=True):
        link.click()
        expect(gas_rate.control(name)).to_be_focused()


def test_field_is_tied_to_its_message(gas_rate):
    message = gas_rate.refusal("volume")
    described = str(gas_rate.control("volume").get_attribute("aria-describedby")).split()
    assert message.get_attribute("id") in described


def test_message_goes_as_soon_as_the_reading_is_right(gas_rate):
    gas_rate.enter(volume="500", elapsed="120")
    gas_rate.submit()
    expect(gas_rate.refusal("volume")).not_to_be_empty()
    gas_rate.enter(volume="0.1")
    gas_rate.expect_state("answered")
    expect(gas_rate.refusal("volume")).to_be_empty()
    expect(gas_rate.control("volume")).not_to_have_attribute("aria-invalid", "true")
    expect(gas_rate.root.locator("[data-hb-summary]")).to_be_hidden()


def test_reader_who_is_still_typing_is_left_alone(new_page: NewPage):
    gas_rate = CalculatorPage(new_page("calculators/gas_rate.html"), "gas_rate")
    gas_rate.expect_state("ready")
    gas_rate.page.clock.install(time=NOON)
    gas_rate.page.clock.pause_at(NOON + dt.timedelta(minutes=1))
    gas_rate.control("volume").press_sequentially("500")
    gas_rate.expect_state("refused")
    expect(gas_rate.control("volume")).to_be_focused()
    for name in ("volume", "elapsed"):
        expect(gas_rate.refusal(name)).to_be_empty()
    expect(gas_rate.root.locator("[data-hb-summary]")).to_be_hidden()
    # A rest in the field, and then what is wrong with it is said; what is missing is not.
    gas_rate.page.clock.run_for(2000)
    expect(gas_rate.refusal("volume")).to_contain_text("500 m³")
    expect(gas_rate.refusal("elapsed")).to_be_empty()
    expect(gas_rate.control("volume")).to_be_focused()


def test_field_that_was_left_says_what_is_wrong(gas_rate):
    gas_rate.control("volume").press_sequentially("0,1")
    gas_rate.control("elapsed").focus()
    expect(gas_rate.refusal("volume")).to_contain_text("full stop")
    expect(gas_rate.refusal("elapsed")).to_be_empty()


def test_text_that_is_no_reading_never_gives_a_number(gas_rate):
    for typed in ("abc", "１２", "NaN", "inf", "1e999", "5 kg", "-0.1", "<b>1</b>", "0x10"):
        gas_rate.enter(volume=typed, elapsed="120")
        gas_rate.submit()
        gas_rate.expect_state("refused")
        expect(gas_rate.refusal("volume"), typed).to_contain_text(label_of(gas_rate, "volume"))
        expect(gas_rate.root.locator("[data-hb-result]"), typed).to_be_hidden()
        assert gas_rate.root.locator("[data-hb-refusal] b").count() == 0, typed
        gas_rate.press("data-hb-clear")
        gas_rate.expect_state("ready")
        expect(gas_rate.refusal("volume"), typed).to_be_empty()


def test_refusal_in_a_folded_part_opens_it(gas_rate):
    gas_rate.enter(volume="0.1", elapsed="120")
    more = gas_rate.root.locator("[data-hb-more]")
    more.locator("summary").click()
    gas_rate.choose("stopwatch", "own")
    more.locator("summary").click()
    gas_rate.submit()
    gas_rate.root.locator("[data-hb-summary] a").first.click()
    expect(gas_rate.control("stopwatch_resolution")).to_be_focused()


def test_impossible_readings_are_refused_with_the_reason(warm):
    shown = CalculatorPage(warm("calculators/burner_pressure.html"), "burner_pressure")
    shown.enter(plate_max="12.5", plate_min="2", left_max="2", left_min="12.5")
    shown.submit()
    shown.expect_state("refused")
    expect(shown.root.locator("[data-hb-summary]")).to_be_focused()
    message = " ".join(shown.root.locator("[data-hb-refusal]").all_text_contents())
    assert label_of(shown, "left_min") in message
    assert label_of(shown, "left_max") in message


def test_choice_is_refused_beside_it_and_reached_from_the_summary(warm):
    shown = CalculatorPage(warm("calculators/burner_pressure.html"), "burner_pressure")
    shown.choose("control", "premix")
    shown.enter(plate_max="12.5", left_max="12.4")
    shown.submit()
    shown.expect_state("refused")
    expect(shown.refusal("control")).to_contain_text("premix")
    shown.root.locator("[data-hb-summary] a").click()
    expect(shown.root.locator('[name="control"][value="premix"]')).to_be_focused()
