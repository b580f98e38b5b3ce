"""A table of readings: rows are added, taken out, pasted, kept, and refused cell by cell."""

from __future__ import annotations

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import Warm

# What a spreadsheet puts on the clipboard: two sections of copper tube, from Tube to Length.
PASTED = "Copper\\t28\\t6\\nCopper\\t22\\t10.5"
PASTE = f"""control => {{
    const clipboardData = new DataTransfer();
    clipboardData.setData('text/plain', '{PASTED}');
    const paste = {{clipboardData, bubbles: true, cancelable: true}};
    control.dispatchEvent(new ClipboardEvent('paste', paste));
}}"""


@pytest.fixture
def pipe(warm: Warm) -> CalculatorPage:
    shown = CalculatorPage(warm("calculators/pipe_pressure_loss.html"), "pipe_pressure_loss")
    shown.expect_state("ready")
    return shown


def rows(pipe: CalculatorPage) -> Locator:
    return pipe.root.locator("[data-hb-row]")


def test_rows_are_added_numbered_and_taken_out(pipe):
    expect(rows(pipe)).to_have_count(1)
    pipe.press("data-hb-add")
    pipe.press("data-hb-add")
    pipe.enter(**{"sections[0].length": "1", "sections[1].length": "2", "sections[2].length": "3"})
    rows(pipe).nth(1).locator("[data-hb-remove]").click()
    expect(rows(pipe)).to_have_count(2)
    expect(pipe.control("sections[0].length")).to_have_value("1")
    expect(pipe.control("sections[1].length")).to_have_value("3")
    expect(pipe.control("sections[1].length")).to_have_accessible_name("Length, row 2")
    expect(rows(pipe).nth(1).locator("[data-hb-remove]")).to_be_focused()


def test_last_row_is_emptied_by_nothing_but_the_reader(pipe):
    rows(pipe).nth(0).locator("[data-hb-remove]").click()
    expect(rows(pipe)).to_have_count(1)


def test_table_that_may_be_empty_opens_with_a_row_that_counts_for_nothing(warm):
    page = warm("calculators/installation_volume.html")
    volume = CalculatorPage(page, "installation_volume")
    expect(rows(volume)).to_have_count(2)
    volume.enter(**{"sections[0].size": "22 mm", "sections[0].length": "16"})
    volume.expect_answer("installation_volume", "0.00563\u00a0m³")
    expect(volume.root.locator("[data-hb-own]")).to_contain_text("No meter is counted.")
    volume.choose("meters[0].meter", "diaphragm_u6_g4")
    volume.expect_answer("installation_volume", "0.01363\u00a0m³")
    cells = volume.root.locator("[data-hb-own] [data-hb-table] td")
    expect(cells).to_have_text(["1", "22 mm copper", "16.00", "0.320", "0.3205", "5.120"])
    expect(cells.last).to_be_visible()  # in a second answer too, whose table is the first one's


def test_fold_opens_where_something_in_it_was_typed(used_page):
    page = used_page("calculators/installation_volume.html")
    volume = CalculatorPage(page, "installation_volume")
    fold = volume.root.locator("[data-hb-more]")
    expect(fold.locator("summary")).to_have_text("More: 5 fields that are seldom filled in")
    expect(volume.control("operating_pressure")).to_be_hidden()
    fold.locator("summary").click()
    volume.enter(operating_pressure="21")
    page.reload()
    expect(volume.control("operating_pressure")).to_be_visible()


def test_cells_of_a_spreadsheet_are_pasted(pipe):
    pipe.control("sections[0].material").evaluate(PASTE)
    expect(rows(pipe)).to_have_count(2)
    for row, size, length in ((0, "28", "6"), (1, "22", "10.5")):
        expect(pipe.control(f"sections[{row}].material")).to_have_value("copper")
        expect(pipe.control(f"sections[{row}].size")).to_have_value(size)
        expect(pipe.control(f"sections[{row}].length")).to_have_value(length)


def test_choice_of_a_row_switches_its_own_cells(pipe):
    pipe.press("data-hb-add")
    pipe.choose("sections[1].material", "other")
    expect(pipe.control("sections[0].size")).to_be_visible()
    expect(pipe.control("sections[0].bore")).to_be_hidden()
    expect(pipe.control("sections[1].size")).to_be_hidden()
    expect(pipe.control("sections[1].bore")).to_be_visible()


def test_rows_stand_beside_the_working_as_in_the_example(pipe):
    given = pipe.root.locator('[data-hb-list="given"] > .hb-given')
    example = given.all_text_contents()
    assert example[0].startswith(
        "Sections of the run, row 1Tube Copper; Size 22\u00a0mm; Length 16"
    )
    pipe.press("data-hb-fill-example")
    pipe.expect_state("answered")
    # A reader's own answer says the day of the test; the built one was made on none.
    live = [said for said in given.all_text_contents() if not said.startswith("Date of the test")]
    assert live == example
    pipe.press("data-hb-add")
    pipe.enter(**{"sections[1].size": "15", "sections[1].length": "2.5"})
    pipe.enter(**{"sections[1].load": "3", "sections[1].joins": "1"})
    expect(given.nth(1)).to_have_text(
        "Sections of the run, row 2Continues from row 1; Tube Copper; Size 15\u00a0mm; "
        "Length 2.5\u00a0m; Load at the end 3\u00a0kW"
    )


def test_cell_is_refused_beside_it(pipe):
    pipe.press("data-hb-fill-example")
    pipe.expect_state("answered")
    pipe.enter(**{"sections[0].length": "abc"})
    pipe.submit()
    pipe.expect_state("refused")
    expect(pipe.refusal("sections[0].length")).to_contain_text("Length, row 1")
    pipe.root.locator("[data-hb-summary] a").first.click()
    expect(pipe.control("sections[0].length")).to_be_focused()


def test_rows_survive_a_reload(used_page):
    page = used_page("calculators/pipe_pressure_loss.html")
    pipe = CalculatorPage(page, "pipe_pressure_loss")
    pipe.control("sections[0].material").evaluate(PASTE)
    pipe.page.reload()
    expect(rows(pipe)).to_have_count(2)
    expect(pipe.control("sections[1].length")).to_have_value("10.5")


def test_rows_are_there_when_the_reader_comes_from_another_page(used_page):
    page = used_page("calculators/pipe_pressure_loss.html")
    pipe = CalculatorPage(page, "pipe_pressure_loss")
    pipe.control("sections[0].material").evaluate(PASTE)
    expect(rows(pipe)).to_have_count(2)
    page.goto(page.url.replace("calculators/pipe_pressure_loss.html", "index.html"))
    page.locator("#hb-main a[href='calculators/pipe_pressure_loss.html']").first.click()
    page.wait_for_url("**/pipe_pressure_loss.html")
    expect(rows(pipe)).to_have_count(2)
    expect(pipe.control("sections[1].length")).to_have_value("10.5")
