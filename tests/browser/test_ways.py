"""A procedure for working, one step to a screen, and for learning."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import faults_in_both_schemes
from tests.browser.conftest import PHONE, STORAGE_FULL, TABLET, NewPage, UsedPage
from tests.browser.ways import BURNER, choose

# Of a phone, where the page for learning has more than 45: what was asked of the way for working.
SCREENS = 12
TOUCH_PX = 48  # a finger in a glove

SHOWN = "element => element.checkVisibility({visibilityProperty: true})"
SMALL = """(least) => [...document.querySelectorAll(
        '#hb-main :is(button, select, summary, .hb-button, .hb-tick, .hb-reading-field)')]
    .filter((each) => each.checkVisibility({visibilityProperty: true}) && !each.disabled)
    .map((each) => [each.className, each.getBoundingClientRect()])
    .filter(([, {width, height}]) => width > 1 && (width < least || height < least))
    .map(([name, {width, height}]) => `${name} ${width}×${height}`)"""


def screens(page: Page) -> float:
    height: float = page.evaluate("document.documentElement.scrollHeight / innerHeight")
    return height


def test_a_phone_has_the_first_step_on_its_first_screen_and_twelve_screens_in_all(
    used_page: UsedPage,
):
    page = used_page(BURNER, PHONE)
    choose(page, "working")
    assert screens(page) <= SCREENS
    bottom = page.locator("[data-hb-step]").first.evaluate(
        "step => step.getBoundingClientRect().bottom + scrollY"
    )
    assert bottom <= PHONE["height"]


def test_the_way_is_kept_and_on_the_page_before_it_is_painted(used_page: UsedPage):
    page = used_page(BURNER, PHONE)
    choose(page, "working")
    page = used_page("procedures/gas_rate.html", PHONE)
    assert page.evaluate("document.documentElement.dataset.hbWay") == "working"
    pressed = page.locator('[aria-pressed="true"]')
    expect(pressed).to_have_text("For working")
    early = page.locator("head script:not([src])").evaluate_all(
        "scripts => scripts.some((each) => each.text.includes('hb:way'))"
    )
    assert early  # in the head, and no file that the page would wait for
    choose(page, "learning")
    page = used_page(BURNER, PHONE)
    expect(page.locator(".hb-task__why").first).to_be_visible()


def test_a_way_that_can_not_be_kept_holds_for_the_pages_that_are_open(new_page: NewPage):
    page = new_page(BURNER, python=False, before=lambda each: each.add_init_script(STORAGE_FULL))
    choose(page, "working")
    expect(page.locator(".hb-task__why").first).to_be_hidden()
    expect(page.locator(".hb-top [data-hb-not-kept]")).to_contain_text("Not kept")


def test_the_sentence_opens_and_the_number_ticks(used_page: UsedPage):
    page = used_page(BURNER, PHONE, reduced_motion="reduce")
    choose(page, "working")
    step = page.locator("#step-found-maximum")
    button = step.get_by_role("button", name="Why, and what if not: step 21")
    button.focus()
    page.keyboard.press("Enter")
    expect(button).to_have_attribute("aria-expanded", "true")
    expect(step.locator(".hb-task__why")).to_be_visible()
    field, why = (step.locator(each).first for each in (".hb-reading-field", ".hb-task__why"))
    assert field.bounding_box()["y"] < why.bounding_box()["y"]  # type: ignore[index]
    page.keyboard.press("Space")
    expect(step.locator(".hb-task__why")).to_be_hidden()
    # Where the number stands a finger ticks it.
    at = step.locator(".hb-task__number").bounding_box()
    page.mouse.click(at["x"] + at["width"] / 2, at["y"] + at["height"] / 2)  # type: ignore[index]
    expect(step.get_by_role("checkbox", name="Done: step 21")).to_be_checked()


def test_a_part_that_is_done_folds_once_the_reader_goes_on(used_page: UsedPage):
    page = used_page(BURNER, PHONE)
    choose(page, "working")
    first, second = page.locator("[data-hb-steps]").nth(0), page.locator("[data-hb-steps]").nth(1)
    for tick in first.locator("[data-hb-tick]").all():
        tick.check()
    last = first.locator("[data-hb-step]").last
    expect(last).to_be_visible()  # nothing folds under the thumb
    tick = second.locator("[data-hb-tick]").first
    tick.scroll_into_view_if_needed()
    before = tick.bounding_box()
    tick.check()
    expect(last).to_be_hidden()
    after = tick.bounding_box()
    assert abs(after["y"] - before["y"]) < 2  # type: ignore[index]  # and what is touched stays there
    first.get_by_role("button", name="Get ready").click()
    expect(last).to_be_visible()


def test_the_foot_says_where_the_reader_is_and_goes_on(used_page: UsedPage):
    page = used_page(BURNER, PHONE)
    choose(page, "working")
    where, on = page.locator("[data-hb-foot-where]"), page.locator("[data-hb-foot-next]")
    expect(where).to_have_text("Step 1 of 45")
    page.locator("#step-read-plate [data-hb-tick]").check()
    expect(where).to_have_text("Step 2 of 45")
    on.click()
    expect(where).to_have_text("Step 3 of 45")
    expect(page.locator('[aria-current="step"]')).to_have_id("step-safe-to-touch")
    choose(page, "one")
    shown = page.locator("[data-hb-step]:visible")
    expect(shown).to_have_count(1)
    on.click()
    expect(shown).to_have_id("step-look-first")
    page.locator("[data-hb-foot-back]").click()
    expect(shown).to_have_id("step-safe-to-touch")


def test_a_gauge_goes_by_its_step_and_never_begins_a_reading(used_page: UsedPage):
    page = used_page(BURNER, PHONE)
    choose(page, "working")
    step = page.locator("#step-found-maximum")
    field = step.locator(".hb-reading-field")
    more, less = (step.get_by_role("button", name=each) for each in ("More by 0.1", "Less by 0.1"))
    expect(more).to_be_disabled()
    expect(less).to_be_disabled()
    field.fill("9.9")
    more.click()
    expect(field).to_have_value("10.0")
    less.click()
    less.click()
    expect(field).to_have_value("9.8")
    field.fill("9.9 mbar or so")
    expect(more).to_be_disabled()
    assert page.locator("#step-read-plate .hb-nudge").count() == 0  # a plate is no gauge


def test_a_sign_can_be_given_where_a_reading_may_be_less_than_nothing(used_page: UsedPage):
    page = used_page("procedures/fault_finding.html", PHONE)
    line = page.locator('[data-hb-step] [data-hb-reading="air_proving.pressure"]').first
    line.locator("input").fill("0.5")
    sign = line.get_by_role("button", name="Other sign")
    sign.click()
    expect(line.locator("input")).to_have_value("-0.5")
    sign.click()
    expect(line.locator("input")).to_have_value("0.5")


@pytest.mark.parametrize("viewport", [PHONE, TABLET], ids=["phone", "tablet"])
def test_what_is_touched_is_large_enough_for_a_glove(used_page: UsedPage, viewport):
    for path in (BURNER, "procedures/tightness_test.html", "procedures/fault_finding.html"):
        page = used_page(path, viewport)
        page.locator(".hb-reading-field").first.wait_for(state="attached")
        for way in ("working", "one"):
            choose(page, way)
            assert page.evaluate(SMALL, TOUCH_PX) == [], (path, way)
            wide = page.evaluate("document.documentElement.scrollWidth")
            assert wide <= viewport["width"], (path, way)


KEYBOARD = """() => {
    Object.defineProperty(visualViewport, 'height', {configurable: true, get: () => 508});
    visualViewport.dispatchEvent(new Event('resize'));
}"""


def test_label_field_and_outcome_stand_above_the_keyboard(new_page: NewPage):
    page = new_page(BURNER, python=False, viewport=PHONE)
    choose(page, "working")
    step = page.locator("#step-found-maximum")
    field = step.locator(".hb-reading-field")
    field.click()
    page.evaluate(KEYBOARD)
    field.press_sequentially("9")
    label, outcome = step.locator("label").nth(1), step.locator("[data-hb-outcome]")
    assert 0 <= label.bounding_box()["y"] < 10  # type: ignore[index]
    room = outcome.evaluate("box => box.getBoundingClientRect().bottom")
    assert room <= 508  # 844 less a keyboard of 336
    # Its room is kept before the answer has come: the next step does not jump.
    assert outcome.evaluate("box => box.getBoundingClientRect().height") > 90


def test_a_link_from_another_page_shows_the_step_that_it_names(used_page: UsedPage):
    """One step stands alone, so another than the one that was asked for would be all there is."""
    page = used_page(BURNER, PHONE)
    choose(page, "one")
    named, other = page.locator("#step-found-maximum"), page.locator("#step-read-plate")
    expect(other).to_be_visible()
    page.goto(page.url.split("/procedures/")[0] + "/practise/results.html")
    page.goto(page.url.split("/practise/")[0] + f"/{BURNER}#step-found-maximum")
    expect(named).to_be_visible()
    expect(named).to_have_attribute("aria-current", "step")
    expect(other).to_be_hidden()
    # Whoever has gone on from there is where they were when the page is loaded anew.
    page.locator("[data-hb-foot-next]").click()
    expect(named).to_be_hidden()
    page.reload()
    expect(named).to_be_hidden()
    # In place too: the search is on every page, and may find a step of this one.
    page.evaluate("location.hash = '#step-read-plate'")
    expect(other).to_be_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_way_that_is_on_is_told_also_where_colours_are_forced(used_page: UsedPage, scheme: str):
    page = used_page(BURNER, PHONE, forced_colors="active", color_scheme=scheme)
    choose(page, "working")
    ground = "button => getComputedStyle(button).backgroundColor"
    pressed, *others = [
        page.locator(f'[data-hb-way-choice="{way}"]').first.evaluate(ground)
        for way in ("working", "one", "learning")
    ]
    assert pressed not in others
    assert len(set(others)) == 1


def test_a_keyboard_that_makes_the_window_shorter_is_one_too(new_page: NewPage):
    """Some browsers lay no keyboard over the page: they give it the height that is left."""
    page = new_page(BURNER, python=False, viewport=PHONE, has_touch=True, is_mobile=True)
    choose(page, "working")
    step = page.locator("#step-found-maximum")
    step.locator(".hb-reading-field").tap()
    page.set_viewport_size({"width": PHONE["width"], "height": 430})
    expect(page.locator("html")).to_have_attribute("data-hb-keyboard", "")
    step.locator(".hb-reading-field").press_sequentially("9")
    label, outcome = step.locator("label").nth(1), step.locator("[data-hb-outcome]")
    assert 0 <= label.bounding_box()["y"] < 10  # type: ignore[index]
    assert outcome.evaluate("box => box.getBoundingClientRect().bottom") <= 430
    page.set_viewport_size(PHONE)
    expect(page.locator("html")).not_to_have_attribute("data-hb-keyboard", "")


def test_axe_finds_nothing_in_the_working_way(used_page: UsedPage):
    page = used_page("procedures/gas_rate.html", PHONE)
    choose(page, "working")
    page.get_by_role("button", name="Why, and what if not: step 1", exact=False).first.click()
    assert faults_in_both_schemes(page, "main") == {}
