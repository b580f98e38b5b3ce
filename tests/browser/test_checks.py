"""Which checks apply: answers leave lines out of the table, and a doubt leaves none out."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import faults_in_both_schemes
from tests.browser.conftest import NewPage, UsedPage

PAGE = "procedures/which_checks_apply.html"
# A premix combination boiler on natural gas with a room-sealed flue, serviced. By hand from what
# each check is for.
SERVICED = {
    "gas": "natural_gas",
    "appliance": "combination_boiler",
    "burner": "premix",
    "flue": "room_sealed",
    "work": "repair",
    "age": "existing",
}
CHECKS_OF_IT = [
    "Look before you start",
    "Look if it stands in a compartment, and check the vents of that",
    "Check the room-sealed flue",
    "Check the working pressure",
    "Check the gas rate",
    "Check the gas and air ratio",
    "Check the combustion",
    "See that it lights, burns, turns down and stops safely, and that its safety devices work",
    "Check the hot water",
    "Check the heating circuit",
    "Reseal and test again",
    "Leave a record and hand over",
]


@pytest.fixture
def page(used_page: UsedPage) -> Page:
    return used_page(PAGE, reduced_motion="reduce")


def answer(page: Page, **answers: str) -> None:
    for name, value in answers.items():
        radio = page.locator(f'[data-hb-checks] [name={name}][value="{value}"]')
        page.locator(f'label[for="{radio.get_attribute("id")}"]').click()


def shown(page: Page) -> list[str]:
    rows = page.locator("[data-hb-check]:visible [data-hb-check-name]")
    return [name.strip() for name in rows.all_text_contents()]


def expect_answers(page: Page, **answers: str) -> None:
    for name, value in answers.items():
        expect(page.locator(f"[data-hb-checks] [name={name}]:checked")).to_have_value(value)


def test_answers_leave_the_checks_that_apply_numbered_in_working_order(page):
    everything = page.locator("[data-hb-check]").count()
    assert len(shown(page)) == everything
    answer(page, **SERVICED)
    assert shown(page) == CHECKS_OF_IT
    numbers = page.locator("[data-hb-check]:visible [data-hb-check-number]").all_text_contents()
    assert numbers == [str(number) for number in range(1, len(CHECKS_OF_IT) + 1)]
    expect(page.locator("[role=status] [data-hb-checks-count]")).to_have_text(
        f"{len(CHECKS_OF_IT)} of {everything} checks to do."
    )
    expect(page.locator("[data-hb-checks-left]")).to_contain_text("Check the open flue")
    expect(page.locator("[data-hb-check-open]:visible")).to_have_count(0)
    flue = page.locator("#check-flue-room-sealed")
    expect(flue).to_contain_text("Law’s minimum: 26(9)(a) and (b)")
    flue.get_by_role("link").click()
    expect(page).to_have_url(page.url.replace("which_checks_apply", "flue_room_sealed"))


def test_a_question_without_an_answer_leaves_nothing_out(page):
    before = shown(page)
    answer(page, work="fitted")
    # Nothing is asked of work on appliances that its answer could take away.
    assert shown(page) == before
    expect(page.locator("#check-tightness-before [data-hb-check-open]")).to_have_text(
        "Depends on: pipework"
    )
    answer(page, flue="open")
    expect(page.locator("#check-flue-room-sealed")).to_be_hidden()
    expect(page.locator("#check-flue-open [data-hb-check-open]")).to_be_hidden()
    answer(page, flue="")
    assert shown(page) == before
    expect(page.locator("#check-flue-open [data-hb-check-open]")).to_have_text("Depends on: flue")
    expect(page.locator("[data-hb-checks-count]")).to_contain_text(
        "once you know: gas, appliance, burner, flue, pipework."
    )


def test_answers_that_cannot_both_be_true_leave_nothing_out(page):
    answer(page, appliance="boiler")
    with_boiler = shown(page)
    assert "Check the hot water" not in with_boiler
    answer(page, flue="flueless")
    expect(page.get_by_text("A boiler has a flue.")).to_be_visible()
    assert len(shown(page)) == page.locator("[data-hb-check]").count()
    answer(page, flue="open")
    expect(page.get_by_text("A boiler has a flue.")).to_be_hidden()
    assert "Check the hot water" not in shown(page)


def test_keyboard_answers_and_enter_does_not_send_the_form_away(page):
    page.locator("[data-hb-checks] [name=flue]:checked").focus()
    page.keyboard.press("ArrowDown")
    expect_answers(page, flue="room_sealed")
    page.keyboard.press("Enter")
    assert "?" not in page.url
    expect(page.locator("#check-flue-open")).to_be_hidden()
    page.keyboard.press("Tab")
    expect(page.locator("[data-hb-checks] [name=work]:checked")).to_be_focused()
    clear = page.get_by_role("button", name="Clear the answers")
    clear.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#check-flue-open")).to_be_visible()
    expect(clear).to_be_focused()


def test_answers_are_remembered_and_cleared_on_request(page):
    answer(page, **SERVICED)
    page.reload()
    expect_answers(page, **SERVICED)
    assert shown(page) == CHECKS_OF_IT
    page.locator("#check-record a").click()
    page.wait_for_url("**/record_and_handover.html")
    page.go_back()
    page.wait_for_url("**/" + PAGE)
    expect_answers(page, **SERVICED)
    page.get_by_role("button", name="Clear the answers").click()
    page.reload()
    expect_answers(page, **dict.fromkeys(SERVICED, ""))
    assert len(shown(page)) == page.locator("[data-hb-check]").count()


def test_form_comes_to_life_on_a_page_reached_by_a_move(used_page: UsedPage):
    page = used_page("procedures/record_and_handover.html")
    page.evaluate("window.before = true")
    page.evaluate("document.querySelector('#hb-main a[href$=\"which_checks_apply.html\"]').click()")
    page.wait_for_url("**/" + PAGE)
    answer(page, **SERVICED)
    assert shown(page) == CHECKS_OF_IT
    assert page.evaluate("window.before")


def test_works_where_storage_is_refused(new_page: NewPage):
    refused = """for (const store of ['sessionStorage', 'localStorage']) {
        Object.defineProperty(window, store, {get() { throw new DOMException('refused'); }});
    }"""
    page = new_page(PAGE, python=False, before=lambda page: page.add_init_script(refused))
    answer(page, **SERVICED)
    assert shown(page) == CHECKS_OF_IT


def test_what_was_kept_by_another_edition_leaves_the_question_open(page):
    page.evaluate(
        """() => sessionStorage.setItem(
            `hb:checks:${location.pathname}#which_checks_apply-asked`,
            JSON.stringify({flue: 'sideways', gas: 'natural_gas', colour: 'blue'}))"""
    )
    page.reload()
    expect_answers(page, flue="", gas="natural_gas")
    expect(page.locator("#check-flue-open")).to_be_visible()
    expect(page.locator("#check-lpg")).to_be_hidden()


def test_without_script_the_whole_table_is_read(new_page: NewPage):
    page = new_page(PAGE, java_script_enabled=False)
    expect(page.locator("[data-hb-checks-form]")).to_be_hidden()
    for row in page.locator("[data-hb-check]").all():
        expect(row).to_be_visible()
    expect(page.locator("#check-purge")).to_contain_text(
        "Work: appliance fitted or pipework opened"
    )
    for empty in ("left", "given"):
        expect(page.locator(f"[data-hb-checks-{empty}]")).to_be_hidden()


def test_print_shows_the_answers_and_the_list_that_they_leave(page):
    answer(page, **{**SERVICED, "age": ""})
    page.emulate_media(media="print")
    expect(page.locator("[data-hb-checks-form]")).to_be_hidden()
    expect(page.locator("[data-hb-checks-given]")).to_have_text(
        "The answers given. Gas: natural gas. Appliance: combination boiler. Burner: premix. "
        "Flue: room-sealed. Work: service or repair. Pipework: not sure yet."
    )
    assert shown(page) == CHECKS_OF_IT
    expect(page.locator("[data-hb-checks-left]")).to_be_visible()


def test_axe_finds_nothing_in_answers_and_clashes(page):
    answer(page, appliance="boiler", flue="flueless", work="repair")
    assert faults_in_both_schemes(page, "main") == {}


def test_everything_to_touch_is_large_enough_and_nothing_runs_off_the_side(page):
    page.set_viewport_size({"width": 390, "height": 844})
    small = page.evaluate(
        """() => [...document.querySelectorAll('[data-hb-checks-form] :is(label, button)')]
            .filter((element) => element.offsetHeight < 44).map((element) => element.outerHTML)"""
    )
    assert small == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
