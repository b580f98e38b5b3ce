"""Several appliances in one visit, as a reader handles them."""

from __future__ import annotations

from playwright.sync_api import Locator, Page, expect

from tests.browser.record_page import (
    RECORD,
    move,
)


def choices(page: Page) -> Locator:
    return page.locator("[data-hb-appliance]")


def choose(page: Page, name: str) -> None:
    button = choices(page).filter(has_text=name)
    button.click()
    expect(button).to_have_attribute("aria-pressed", "true")


def forms(page: Page) -> Locator:
    """Where the appliances are named and added, unfolded."""
    place = page.locator("[data-hb-appliance-forms]")
    place.evaluate("fold => (fold.open = true)")
    return place


def add(page: Page, name: str) -> None:
    place = forms(page)
    place.locator("[data-hb-appliance-new-name]").fill(name)
    place.get_by_role("button", name="Add it").click()
    expect(place.locator("[data-hb-appliance-said]")).to_have_text(f"Readings go to “{name}”.")


def rename(page: Page, name: str) -> None:
    place = forms(page)
    place.locator("[data-hb-appliance-name]").fill(name)
    place.get_by_role("button", name="Rename").click()
    expect(place.locator("[data-hb-appliance-said]")).to_have_text(f"Its name is “{name}”.")


def two(page: Page) -> None:
    """From the record's page: the open visit gets a second appliance, which is worked on."""
    to_visit(page)
    rename(page, COMBI)
    add(page, FIRE)
    move(page, RECORD, "The visit record")


def to_visit(page: Page) -> None:
    move(page, VISIT, "Checks in order")


COMBI, FIRE = "Kitchen combi", "Front-room fire"
VISIT = "visit/checks_in_order.html"
