"""What a visit holds fills the calculators, and an answer goes back into it."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import NewPage, UsedPage
from tests.browser.record_page import (
    PLATE_INPUT,
    PLATE_MAX,
    field,
    keep,
    move,
    said,
    taken,
    to_record,
)


def fill_in_a_step(page: Page) -> None:
    """There a calculator takes what the step reads: the gas rate as found, not as left."""
    keep(page, "gas_rate.found_volume", "0.079")
    keep(page, "gas_rate.left_elapsed", "121")
    step = page.locator("[data-hb-step]", has=field(page, "gas_rate.found_volume"))
    step.locator(".hb-fold").first.evaluate("fold => (fold.open = true)")
    step.locator("[data-hb-fill-visit]").click()
    expect(step.locator('hb-calculator [name="volume"]')).to_have_value("0.079")
    expect(step.locator('hb-calculator [name="plate_input"]')).to_have_value("27.0")
    expect(step.locator('hb-calculator [name="elapsed"]')).to_have_value("")


def a_meter_reading_chooses_its_way(page: Page) -> None:
    """The form asks for the gas used until it is told otherwise."""
    move(page, "procedures/gas_rate.html", "Check the gas rate")
    keep(page, "gas_rate.index_first", "4271.386")
    move(page, "calculators/gas_rate.html", "Gas rate")
    rate = CalculatorPage(page, "gas_rate")
    expect(rate.control("first_reading")).to_be_hidden()
    rate.press("data-hb-fill-visit")
    expect(rate.control("first_reading")).to_have_value("4271.386")
    expect(rate.control("first_reading")).to_be_visible()


def test_the_plate_fills_a_calculator_and_its_answer_is_kept_with_its_limit(new_page: NewPage):
    page = new_page("procedures/burner_pressure.html")
    keep(page, PLATE_MAX, "12.5")
    keep(page, PLATE_INPUT, "27.0")
    fill_in_a_step(page)
    move(page, "calculators/burner_pressure.html", "Burner pressure")
    form = CalculatorPage(page, "burner_pressure")
    told = form.root.locator("[data-hb-keep-bar] [role=status]")

    # The invented figures never get into a record.
    form.press("data-hb-fill-example")
    form.expect_state("answered")
    form.press("data-hb-keep")
    expect(told).to_contain_text("Nothing was kept. The form still holds figures of the invented")
    page.reload()
    form.expect_state("answered")
    form.enter(found_max="9.8")
    form.expect_state("answered")
    form.press("data-hb-keep")
    expect(told).to_contain_text("Nothing was kept")
    expect(told).not_to_contain_text("Maximum, as found")

    form.press("data-hb-clear")
    form.enter(plate_min="0.2")
    form.control("plate_min.unit").select_option(label="kPa")
    form.enter(found_max="9.8", tolerance="0.3")
    form.press("data-hb-fill-visit")
    expect(form.control("plate_max")).to_have_value("12.5")
    expect(form.control("plate_input")).to_have_value("27.0")
    expect(form.control("plate_min")).to_have_value("0.2")
    form.submit()
    form.expect_state("answered")
    form.press("data-hb-keep")
    expect(told).to_contain_text("Minimum on the data plate 0.2 kPa; Maximum, as found 9.8 mbar")
    # Another figure for the same reading is put in only where the reader says so.
    form.enter(found_max="9.9")
    # By hand: 27.0 × √(9.9 ÷ 12.5) = 24.03.
    form.expect_answer("input_found_max", "24.03\u00a0kW")
    expect(form.root.locator("[data-hb-keep-bar] [role=status]")).to_be_empty()
    form.press("data-hb-keep")
    expect(told).to_contain_text("The record has other figures, which stay: Maximum, as found 9.8")
    form.press("data-hb-keep-anew")
    expect(told).to_have_text("The record has the new figures.")

    to_record(page)
    expect(field(page, "burner_pressure.found_max")).to_have_value("9.9")
    expect(field(page, "plate.burner_pressure_min")).to_have_value("0.2 kPa")
    answers = page.locator("[data-hb-list=kept-answers] > li")
    expect(answers).to_have_count(2)
    expect(answers.first).to_contain_text("Maximum, as found: Does not meet the limit.")
    expect(answers.first).to_contain_text("instructions govern")
    answers.first.get_by_role("button").click()
    expect(answers).to_have_count(1)

    a_meter_reading_chooses_its_way(page)


def test_what_cannot_be_a_reading_is_kept_as_typed_and_marked(used_page: UsedPage):
    page = used_page("procedures/burner_pressure.html")
    told = {
        "abc": "Not usable. It must be a number. Type one number, and after it mbar or no unit.",
        "-3": "Not usable. It must be between 0.05 and 200 mbar.",
        "1e999": "Not usable. It must be a number.",
        "1140 mbar": "between 0.05 and 200 mbar. Check the figure and its unit.",
        "2300 m": "Not usable. It can't be in “m”. Use mbar or another unit of the same kind.",
    }
    line = page.locator(f'li[data-hb-reading="{PLATE_MAX}"]').first
    for text, words in told.items():
        field(page, PLATE_MAX).fill(text)
        expect(said(page, PLATE_MAX)).to_contain_text(words)
        expect(said(page, PLATE_MAX)).to_contain_text(
            "It is kept as you typed it, and no calculator"
        )
        expect(field(page, PLATE_MAX)).to_have_attribute("aria-invalid", "true")
    keep(page, PLATE_INPUT, "27.0")
    page.reload()
    expect(field(page, PLATE_MAX)).to_have_value("2300 m")
    expect(said(page, PLATE_MAX)).to_contain_text("Not usable.")
    expect(page.locator(f'tr[data-hb-kept="{PLATE_MAX}"]')).to_contain_text("2300 m (not usable)")
    page.emulate_media(media="print")
    mark = "place => getComputedStyle(place.querySelector('.hb-blank'), '::after').content"
    assert "not usable" in line.evaluate(mark)
    page.emulate_media(media="screen")

    # No calculator takes it, and the record counts it as missing.
    move(page, "calculators/burner_pressure.html", "Burner pressure")
    form = CalculatorPage(page, "burner_pressure")
    form.press("data-hb-fill-visit")
    expect(form.control("plate_max")).to_have_value("")
    expect(form.control("plate_input")).to_have_value("27.0")
    expect(form.root).to_contain_text("Not usable as the visit has it: Maximum on the data plate")
    to_record(page)
    expect(page.locator("details", has=field(page, PLATE_MAX))).to_contain_text("1 of 12")
    assert ",2300,m,not usable," in taken(page, "table")
    page.locator("details", has=field(page, PLATE_MAX)).evaluate("fold => (fold.open = true)")
    keep(page, PLATE_MAX, "1.25 kPa")
    expect(field(page, PLATE_MAX)).not_to_have_attribute("aria-invalid", "true")


def test_what_came_from_the_visit_follows_it_and_what_was_typed_stays(used_page: UsedPage):
    page = used_page("procedures/burner_pressure.html")
    keep(page, PLATE_MAX, "12.5")
    keep(page, PLATE_INPUT, "27.0")
    move(page, "calculators/burner_pressure.html", "Burner pressure")
    form = CalculatorPage(page, "burner_pressure")
    form.control("plate_min").fill("2.0")
    form.press("data-hb-fill-visit")
    expect(form.control("plate_max")).to_have_value("12.5")
    form.control("plate_input").fill("26.5")  # a person's from now on

    other = page.context.new_page()
    other.goto(page.url.replace("calculators", "procedures"))
    other.wait_for_load_state("load")
    keep(other, PLATE_MAX, "1.3 kPa")
    keep(other, PLATE_INPUT, "30.0")
    keep(other, "plate.burner_pressure_min", "3.0")
    expect(form.control("plate_max")).to_have_value("1.3")
    expect(form.control("plate_max.unit")).to_have_value("kPa")
    expect(form.root).to_contain_text("Changed with the visit: Maximum on the data plate")
    expect(form.control("plate_input")).to_have_value("26.5")
    expect(form.control("plate_min")).to_have_value("2.0")

    # It still follows after a reload, and where it is taken out it goes from here too.
    page.reload()
    keep(other, PLATE_MAX, "12.6")
    expect(form.control("plate_max")).to_have_value("12.6")
    expect(form.control("plate_input")).to_have_value("26.5")
    field(other, PLATE_MAX).fill("")
    expect(form.control("plate_max")).to_have_value("")
    other.close()


def test_a_plate_is_filled_and_kept_on_the_basis_that_the_form_says(new_page: NewPage):
    page = new_page("calculators/gas_rate.html")
    form = CalculatorPage(page, "gas_rate")
    form.press("data-hb-clear")
    form.choose("plate_basis", "gross")
    form.enter(volume="0.080", elapsed="120", plate_input="26.6")
    form.submit()
    form.expect_state("answered")
    form.press("data-hb-keep")
    told = form.root.locator("[data-hb-keep-bar] [role=status]")
    expect(told).to_contain_text("Heat input on the data plate 26.6 kW")
    to_record(page)
    expect(field(page, "plate.heat_input_gross")).to_have_value("26.6")
    expect(field(page, PLATE_INPUT)).to_have_value("")

    # A gross plate fills no field that is net, and the other way round.
    keep(page, PLATE_INPUT, "24.0")
    move(page, "calculators/gas_rate.html", "Gas rate")
    form = CalculatorPage(page, "gas_rate")
    form.press("data-hb-clear")
    form.press("data-hb-fill-visit")
    expect(form.control("plate_input")).to_have_value("24.0")
    form.choose("plate_basis", "gross")
    expect(form.control("plate_input")).to_have_value("26.6")
    form.choose("plate_basis", "net")
    expect(form.control("plate_input")).to_have_value("24.0")
