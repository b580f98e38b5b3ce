"""The reader's own emergency number, and the name that is printed with the record."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.conftest import STORAGE_FULL, NewPage, UsedPage

PAGE, RECORD = "own/your_own.html", "record/visit.html"
NUMBER = "0111 222333"  # invented
TOUCH_PX = 48  # as large as all that a glove touches


def put(page: Page, key: str, text: str) -> None:
    field = page.locator(f'[data-hb-person="{key}"]')
    field.fill(text)
    field.press("Tab")


def test_the_readers_number_is_one_to_touch_wherever_the_contact_stands(used_page: UsedPage):
    page = used_page("index.html")
    links = page.locator("[data-hb-own-contact]")
    # Above the page and at its foot; nobody guesses a number.
    expect(links).to_have_text(["Set your emergency number"] * 2)
    assert page.locator('a[href^="tel:"]').count() == 0
    links.first.click()
    expect(page.locator("#you")).to_be_in_viewport()
    put(page, "contact", NUMBER)
    foot = page.locator(".md-footer [data-hb-own-contact]")
    expect(foot).to_have_text(f"Call {NUMBER}, your own number")
    expect(foot).to_have_attribute("href", "tel:0111222333")
    page.goto(page.url.split("/own/")[0] + "/index.html")
    expect(links).to_have_text([f"Call {NUMBER}, your own number"] * 2)
    expect(page.locator("[data-hb-contact-unset]").first).to_be_hidden()
    box = links.first.bounding_box()
    assert box
    assert box["height"] >= TOUCH_PX


# The home page as it is painted first: no script has put anything in its place.
AS_PAINTED = """() => {
    const contact = document.querySelector('.hb-warning__contact');
    contact.querySelector('[data-hb-own-contact]').remove();
    contact.querySelector('[data-hb-contact-unset]').hidden = false;
    const open = document.querySelector('[data-hb-visit-home]');
    if (!open.hidden) document.documentElement.dataset.hbRoom = '';
    open.hidden = true;
    document.querySelector('[data-hb-visit-none]').hidden = false;
}"""
DOORS = "document.querySelector('.hb-doors').getBoundingClientRect().top"
OPEN_VISIT = """localStorage.setItem('hb:visit', JSON.stringify({name: 'A visit', readings: 2}))"""


def test_the_home_page_is_as_high_before_its_scripts_as_after(used_page: UsedPage):
    """A finger that goes to a door as the page appears meets that door."""
    page = used_page("index.html", {"width": 390, "height": 844})
    for prepare in ("0", OPEN_VISIT, "localStorage.setItem('hb:own', '{\"contact\": \"0111 2\"}')"):
        page.evaluate(prepare)
        page.reload()
        expect(page.locator("[data-hb-own-contact]").first).to_be_visible()
        after = page.evaluate(DOORS)
        page.evaluate(AS_PAINTED)
        assert page.evaluate(DOORS) == after, prepare
        page.reload()
    expect(page.locator("[data-hb-own-contact]").first).to_have_text("Call 0111 2, your own number")


def test_what_is_no_number_is_not_kept(used_page: UsedPage):
    page = used_page(PAGE)
    put(page, "contact", "the office")
    expect(page.locator("[data-hb-person-said]")).to_contain_text("digits and spaces")
    expect(page.locator('[data-hb-person="contact"]')).to_have_attribute("aria-invalid", "true")
    assert page.evaluate("localStorage.getItem('hb:own')") is None
    put(page, "contact", NUMBER)
    expect(page.locator("[data-hb-person-said]")).to_have_text("")


def test_name_and_registration_are_printed_with_the_record(used_page: UsedPage):
    page = used_page(PAGE)
    put(page, "name", "An <i>engineer</i>")
    put(page, "registration", "123456")
    page.goto(page.url.replace(PAGE, RECORD))
    line = page.locator("[data-hb-person-line]")
    expect(line).to_have_text(
        "Worked by: An <i>engineer</i>, registration 123456. As typed on this device."
    )
    page.emulate_media(media="print")
    expect(line).to_be_visible()


def test_what_cannot_be_kept_stays_in_its_field(new_page: NewPage):
    page = new_page(PAGE, python=False, before=lambda page: page.add_init_script(STORAGE_FULL))
    put(page, "name", "An engineer")
    put(page, "contact", NUMBER)
    expect(page.locator("[data-hb-own-error]")).to_contain_text("Not kept")
    expect(page.locator('[data-hb-person="name"]')).to_have_value("An engineer")


def test_another_window_shows_what_one_has_changed(new_page: NewPage):
    page = new_page(PAGE, python=False)
    other = page.context.new_page()
    other.goto(page.url.replace(PAGE, "index.html"))
    put(page, "contact", NUMBER)
    expect(other.locator("[data-hb-own-contact]").first).to_contain_text(NUMBER)
