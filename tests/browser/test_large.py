"""For a class: one step or one question large on the screen, the answer on a touch of a key."""

from __future__ import annotations

from playwright.sync_api import Locator, Page, expect

from tests.browser.accessibility import faults_in_both_schemes
from tests.browser.conftest import NewPage, UsedPage

SIZES = ({"width": 1280, "height": 800}, {"width": 1920, "height": 1080})
BURNER = "procedures/burner_pressure.html"
LEAST_PX = 26  # of what is said of a step: it is read from the last row
TOUCH_PX = 48
STOPPED = "[data-hb-step]:has(.hb-warning--stop):has(.hb-task__why)"


def opened(page: Page) -> Locator:
    page.get_by_role("button", name="On a projector").click()
    dialog = page.locator("[data-hb-large]")
    expect(dialog).to_be_visible()
    return dialog


def test_a_step_is_shown_with_what_can_hurt_and_its_why_on_a_key(used_page: UsedPage) -> None:
    page = used_page(BURNER, SIZES[0])
    steps = page.locator("[data-hb-step]")
    count = steps.count()
    place = int(page.locator(STOPPED).first.get_attribute("data-hb-step") or "0")
    step = steps.nth(place - 1)
    says = step.locator(".hb-task__do").text_content() or ""
    dialog = opened(page)
    answer = dialog.locator("[data-hb-large-answer]")
    for number in range(1, place + 1):
        expect(dialog).to_contain_text(f"step {number} of {count}")
        page.keyboard.press("ArrowRight" if number < place else "Shift")
    expect(dialog.locator(".hb-large__main")).to_have_text(says)
    expect(dialog.locator(".hb-warning--stop").first).to_be_visible()
    expect(answer).to_be_hidden()
    page.keyboard.press("Enter")
    expect(answer.locator(".hb-task__why")).to_be_visible()
    page.keyboard.press(" ")
    expect(answer).to_be_hidden()
    page.keyboard.press("ArrowLeft")
    expect(dialog).to_contain_text(f"step {place - 1} of {count}")
    for size in SIZES:
        page.set_viewport_size(size)  # type: ignore[arg-type]
        main = dialog.locator(".hb-large__main")
        assert main.evaluate("e => parseFloat(getComputedStyle(e).fontSize)") >= LEAST_PX
        assert dialog.evaluate("e => e.scrollWidth - e.clientWidth") == 0
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    expect(page.get_by_role("button", name="On a projector")).to_be_focused()


def test_it_is_worked_by_touch_and_axe_finds_nothing(used_page: UsedPage) -> None:
    page = used_page(BURNER, SIZES[0])
    dialog = opened(page)
    expect(dialog.get_by_role("button", name="Back")).to_be_disabled()
    dialog.get_by_role("button", name="Next").click()
    expect(dialog).to_contain_text("step 2 of")
    dialog.get_by_role("button", name="Show why").click()
    expect(dialog.get_by_role("button", name="Hide it")).to_have_attribute("aria-expanded", "true")
    assert faults_in_both_schemes(page, "[data-hb-large]") == {}
    for each in dialog.get_by_role("button").all():
        box = each.bounding_box()
        assert box
        assert min(box["width"], box["height"]) >= TOUCH_PX
    dialog.get_by_role("button", name="Leave").click()
    expect(dialog).to_have_count(0)
    assert opened(page).count() == 1  # a second time too


def test_a_question_waits_with_its_answer_and_nothing_of_it_is_kept(new_page: NewPage) -> None:
    page = new_page("practise/session.html", viewport=SIZES[0])
    page.locator("[data-hb-practice-topic]").select_option("read")
    dialog = opened(page)
    main, answer = dialog.locator(".hb-large__main"), dialog.locator("[data-hb-large-answer]")
    expect(main).to_be_visible(timeout=60_000)
    expect(dialog.locator("figure svg")).to_be_visible()  # an instrument to read
    expect(answer).to_be_hidden()
    first, where = main.text_content(), dialog.locator(".hb-large__where").text_content()
    page.keyboard.press("Enter")
    expect(answer.locator("p").first).not_to_be_empty()
    page.keyboard.press("ArrowRight")
    expect(answer).to_be_hidden()
    expect(dialog.locator(".hb-large__where")).not_to_have_text(where or "")
    page.keyboard.press("ArrowLeft")
    expect(main).to_have_text(first or "")
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    assert page.evaluate("Object.keys(localStorage).filter((key) => /practice/.test(key))") == []
