"""The page of a visit: its checks, and whether its readings fit each other as they change."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any

from playwright.sync_api import Page, expect

from tests.browser.accessibility import faults, show
from tests.browser.brought_visit import SCENARIO, visit_of
from tests.browser.choices import choose, expect_chosen
from tests.browser.conftest import PATIENCE_MS, PHONE, NewPage, UsedPage
from tests.browser.printed_record import laid
from tests.browser.record_page import RECORD, act, bring, field, move, taken, visits
from tests.browser.ways import choose as choose_way
from tests.project import project

VISIT = "visit/checks_in_order.html"
OTHERS = ("gas_air_ratio.", "instructions.carbon_dioxide_m")  # of the premix boiler beside it
CELL, OWN_CELL = "analyser.carbon_dioxide_by", "measured by a cell of its own"
WATER = "hot_water.elapsed"
TOUCH = 48
SCREENS = 80  # of a phone, asked of all pages of such a visit: there were 289


PATHS = "links => links.map(({pathname}) => pathname.slice(1))"


def begun_at(moment: str, brought: dict[str, Any]) -> dict[str, Any]:
    """The same file, of a visit that was begun then."""
    return {**brought, "visits": [{**each, "begun": moment} for each in brought["visits"]]}


def asked() -> set[str]:
    """Readings of the boiler that the cross-check takes."""
    parts = project().one("cross_check_visit")
    groups = [names for key in ("inputs", "left", "found") for names in parts[key].values()]
    runs = [[*each["volume"], each["elapsed"]] for each in (*parts["runs"], parts["found_run"])]
    names = {name for group in (*groups, *runs) for name in group}
    return {name for name in names if name in SCENARIO and not name.startswith(OTHERS)}


def to_visit(page: Page) -> None:
    move(page, VISIT, "Checks in order")


def test_it_says_whether_the_readings_fit_and_the_record_has_it(new_page: NewPage):
    page = new_page(RECORD, viewport=PHONE, color_scheme="light")
    bring(page, visit_of(asked()))
    act(page, "open")
    to_visit(page)
    word, more = page.locator("[data-hb-fit-word]"), page.locator("[data-hb-fit-more]")
    # It is not worked out before it is wanted.
    expect(page.locator("[data-hb-check-id]").first).to_be_visible()
    expect(word).to_have_text("Being worked out")
    page.locator("#fit").scroll_into_view_if_needed()
    expect(word).to_have_text("They fit", timeout=PATIENCE_MS)
    expect(page.locator("[data-hb-fit-said]")).to_contain_text("They fit")
    expect(page.locator("[data-hb-fit-picture]")).to_have_count(3)
    expect(page.locator("[data-hb-fit-picture]").first).to_contain_text("27.0\xa0kW")
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]

    # One reading taken down wrongly: 31 s as 13 s.
    move(page, RECORD, "The visit record")
    answers = page.locator('[data-hb-list="kept-answers"]')
    expect(answers).to_contain_text("They fit: In order.")
    assert "sums come out as near" in taken(page, "table")
    field(page, WATER).evaluate("field => (field.closest('details').open = true)")
    field(page, WATER).fill("13")
    expect(answers).not_to_contain_text("They fit")
    # The record works it out anew by itself: it may be printed without the page of the visit.
    expect(answers).to_contain_text("They do not fit", timeout=PATIENCE_MS)
    to_visit(page)
    page.locator("#fit").scroll_into_view_if_needed()
    expect(word).to_have_text("They do not fit", timeout=PATIENCE_MS)
    expect(more).to_contain_text("Time to fill the vessel: 13\xa0s")
    expect(more).to_contain_text("It points to this: the hot water")
    step = more.get_by_role("link", name="Go to the step: Take this next: time a vessel")
    assert str(step.get_attribute("href")).endswith("hot_water.html#step-catch-water")
    for scheme in ("light", "dark"):
        show(page, scheme)
        assert faults(page, within="main") == []
    page.emulate_media(color_scheme="light")
    small = page.evaluate(
        """() => [...document.querySelectorAll('main :is(a, button, select, summary)')]
            .filter((each) => each.offsetParent && each.offsetHeight < 44 && !each.closest('p'))
            .map((each) => each.outerHTML)"""
    )
    assert small == []

    # It stands once in the record, in a file and on paper.
    move(page, RECORD, "The visit record")
    expect(answers).to_contain_text("They do not fit")
    [visit] = json.loads(taken(page, "one"))["visits"]
    [kept] = visit["answers"]
    assert (kept["calculator"], kept["verdicts"][0]["outcome"]) == ("cross_check", "does_not_meet")
    laid(page)
    expect(page.locator("[data-hb-printed]")).to_contain_text("They do not fit: They can't all be")


def test_a_cell_of_its_own_for_carbon_dioxide_is_chosen_kept_and_counts(new_page: NewPage):
    """7.5 beside 8.6 percent of oxygen: one cell would show 6.9, two cells may differ so far.

    11.8 × (1 − 8.6 ÷ 20.9) = 6.94, and each cell is good to 0.3 percent (data/instruments.yaml).
    """
    page = new_page(RECORD, viewport=PHONE)
    older = json.loads(visit_of(asked()))  # an earlier edition asked nothing of cells
    for each in older["visits"][0]["readings"]:
        if each["name"] == "combustion.carbon_dioxide":
            each["value"] = "7.5"
    bring(page, json.dumps(older))
    act(page, "open")
    answers = page.locator('[data-hb-list="kept-answers"]')
    to_visit(page)
    word = page.locator("[data-hb-fit-word]")
    page.locator("#fit").scroll_into_view_if_needed()
    expect(word).to_have_text("They do not fit", timeout=PATIENCE_MS)
    more = page.locator("[data-hb-fit-more]")
    expect(more).to_contain_text("Carbon dioxide in the flue gas, maximum: 7.5")

    move(page, "procedures/combustion_check.html", "Check the combustion")
    choose(page, CELL, OWN_CELL)
    to_visit(page)
    page.locator("#fit").scroll_into_view_if_needed()
    expect(word).to_have_text("They fit", timeout=PATIENCE_MS)

    move(page, RECORD, "The visit record")
    expect(answers).to_contain_text("They fit")
    exported = taken(page, "one")
    [kept] = json.loads(exported)["visits"]
    assert [each["value"] for each in kept["readings"] if each["name"] == CELL] == [OWN_CELL]
    act(page, "delete")
    act(page, "delete-now")
    expect(visits(page)).to_have_count(0)
    bring(page, exported)
    act(page, "open")
    expect_chosen(page, CELL, OWN_CELL)
    to_visit(page)
    page.locator("#fit").scroll_into_view_if_needed()
    expect(word).to_have_text("They fit", timeout=PATIENCE_MS)


def test_the_whole_row_of_a_check_is_its_link(used_page: UsedPage):
    page = used_page(RECORD, viewport=PHONE)
    bring(page, visit_of({"plate.heat_input_net"}))
    act(page, "open")
    to_visit(page)
    row = page.locator('[data-hb-check-id="gas_rate"]')
    link, mark = row.get_by_role("link"), row.locator("select")
    row.scroll_into_view_if_needed()
    box = row.bounding_box() or {"x": 0, "y": 0, "width": 0, "height": 0}
    assert box["height"] >= TOUCH
    mark.click()  # what a person says of it lies over the link
    expect(mark).to_be_focused()
    page.keyboard.press("Escape")
    page.locator('[data-hb-check-id="burner_pressure"] select').focus()
    page.keyboard.press("Tab")
    expect(link).to_be_focused()
    style = "link => getComputedStyle(link, '::after').outline"
    assert "3px" in link.evaluate(style)
    row.click(position={"x": 6, "y": box["height"] - 6})
    expect(page.locator("main h1")).to_have_text("Check the gas rate")


def test_a_check_without_a_page_is_named_before_it_and_marked_in_the_list(used_page: UsedPage):
    page = used_page(RECORD, viewport=PHONE)
    bring(page, visit_of({"plate.heat_input_net"}).replace("natural_gas", "propane"))
    act(page, "open")
    to_visit(page)
    go_on, following = page.locator("[data-hb-go-on]"), page.locator("[data-hb-check-next]")
    expect(go_on).to_contain_text("1 Look before you start")
    go_on.get_by_role("link").click()
    expect(following).to_contain_text("First, without a page of its own: Look at the cylinders")
    following.get_by_role("button").press("Enter")
    following.get_by_role("link", name="Mark it in the visit").click()
    expect(go_on).to_contain_text("2 Look at the cylinders")
    expect(go_on.get_by_role("link")).to_have_attribute("href", "#check-lpg")


def test_without_a_script_it_lists_the_pages_of_a_visit(new_page: NewPage):
    page = new_page(VISIT, java_script_enabled=False)
    expect(page.locator("noscript li", has_text="Check the gas rate").locator("a")).to_be_visible()
    expect(page.locator("noscript p", has_text="Work down the pages below")).to_be_visible()


def test_the_pages_of_a_combination_boiler_s_repair_are_eighty_screens_of_a_phone(
    used_page: UsedPage,
):
    page = used_page(RECORD, PHONE)
    begun = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%S.000Z")
    bring(page, json.dumps(begun_at(begun, json.loads(visit_of(set())))))
    act(page, "open")
    to_visit(page)
    links = page.locator("[data-hb-check-id] a")
    pages = {"procedures/which_checks_apply.html", *links.evaluate_all(PATHS)}
    assert len(pages) == 13
    screens = 0.0
    choose_way(used_page("procedures/gas_rate.html", PHONE), "working")
    for path in sorted(pages):
        page = used_page(path, PHONE)
        expect(page.locator(".hb-check-place, [data-hb-checks-question]").first).to_be_visible()
        screens += page.evaluate("document.documentElement.scrollHeight / innerHeight")
    assert screens <= SCREENS
