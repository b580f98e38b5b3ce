"""What the reader's finger is on stays in its place while answers arrive."""

from __future__ import annotations

from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import PATIENCE_MS, NewPage

PHONE = {"width": 390, "height": 844}
START, PRESSURE = "procedures/before_you_start.html", "procedures/burner_pressure.html"
# A check that was found wanting: what to do then takes several lines on a phone.
ILL, INSTRUMENTS = "arrival.nobody_ill", "arrival.instruments"
WORKING = "try { localStorage.setItem('hb:way', 'working'); } catch {}"
CENTRE = "place => place.scrollIntoView({block: 'center', behavior: 'instant'})"
SEVERAL_LINES_PX = 100
TOP = "place => Math.round(place.getBoundingClientRect().top)"
HEIGHT = "place => Math.round(place.getBoundingClientRect().height)"


def working(page: Page) -> None:
    page.add_init_script(WORKING)


def line(page: Page, name: str) -> Locator:
    return page.locator(f'#steps li[data-hb-reading="{name}"]').first


def word(page: Page, name: str, text: str) -> Locator:
    return line(page, name).locator(f'.hb-choice:has(input[value="{text}"])')


def outcome(page: Page, step: str) -> Locator:
    return page.locator(f'[data-hb-outcome="{step}"]')


def test_the_room_of_an_answer_by_a_word_is_kept_to_the_pixel_before_it_comes(new_page: NewPage):
    unanswered = new_page(START, python=False, before=working, viewport=PHONE, has_touch=True)
    word(unanswered, ILL, "no").tap()
    room = outcome(unanswered, "before_you_start.people")
    expect(room).to_be_hidden()  # it is room and no more
    kept = room.evaluate(HEIGHT)
    # A word that calls for no judgement has no answer.
    word(unanswered, ILL, "does not apply").tap()
    assert room.evaluate(HEIGHT) == 0

    page = new_page(START, before=working, viewport=PHONE, has_touch=True)
    word(page, ILL, "no").tap()
    told = outcome(page, "before_you_start.people")
    expect(told).to_have_attribute("data-state", "outside", timeout=PATIENCE_MS)
    assert kept == told.evaluate(HEIGHT) > SEVERAL_LINES_PX


def test_what_was_touched_does_not_move_when_its_answer_comes(new_page: NewPage):
    """What is drawn at the end of the steps stands first in the page: nothing holds on to it."""
    page = new_page(START, before=working, viewport=PHONE, has_touch=True)
    place = word(page, INSTRUMENTS, "no")
    page.wait_for_timeout(1000)  # what is far down has come
    place.evaluate(CENTRE)
    expect(page.locator("[data-hb-visit-bar]")).to_be_in_viewport()
    before = place.evaluate(TOP)
    place.tap()
    told = outcome(page, "before_you_start.instruments")
    expect(told).to_have_attribute("data-state", "outside", timeout=PATIENCE_MS)
    expect(page.locator("[data-hb-visit-bar]")).to_contain_text("Readings go into")
    assert abs(place.evaluate(TOP) - before) <= 1


def test_a_field_stays_under_the_finger_when_what_stood_above_it_goes(new_page: NewPage):
    """How much gas is to pass is told above the fields, until the run has been taken."""
    page = new_page(PRESSURE, before=working, viewport=PHONE, has_touch=True)
    typed = {"plate.heat_input_net": "24.2", "gas_rate.found_volume": "0.071"}
    for name, text in typed.items():
        line(page, name).locator("input").fill(text)
    run = page.locator("#step-found-gas-rate [data-hb-run-told]")
    expect(run).to_be_visible(timeout=PATIENCE_MS)
    field = line(page, "gas_rate.found_elapsed").locator("input")
    field.evaluate(CENTRE)
    field.tap()
    before = field.evaluate(TOP)
    field.press_sequentially("120")
    expect(run).to_be_hidden(timeout=PATIENCE_MS)
    told = outcome(page, "burner_pressure.found_gas_rate")
    expect(told).to_have_attribute("data-state", "outside", timeout=PATIENCE_MS)
    assert abs(field.evaluate(TOP) - before) <= 1


# The page as it is painted first, before the visit has been read.
AS_PAINTED = """() => {
    document.querySelector('[data-hb-check-place]').remove();
    document.documentElement.dataset.hbRoom = '';
}"""


def test_the_place_among_the_checks_has_its_room_from_the_first_frame(new_page: NewPage):
    page = new_page(PRESSURE, python=False, before=working, viewport=PHONE, has_touch=True)
    root = page.locator("html")
    expect(root).not_to_have_attribute("data-hb-room", "")  # no visit is open
    line(page, "plate.heat_input_net").locator("input").fill("24.2")
    expect(page.locator("[data-hb-check-place]")).to_be_visible()
    page.reload()
    below = page.locator(".hb-short").first
    expect(page.locator("[data-hb-check-place]")).to_be_visible()
    expect(root).not_to_have_attribute("data-hb-room", "")
    after = below.evaluate(TOP)
    page.evaluate(AS_PAINTED)
    assert below.evaluate(TOP) == after
    # A page without steps has the head that it will have, too.
    page.goto(page.url.split("/procedures/")[0] + "/calculators/gas_rate.html")
    assert page.evaluate("document.documentElement.dataset.hbWay") == "working"
