"""The invented visit and drawn ones, walked by touch on a phone or a tablet without a network.

One device keeps the edition once, then the network goes. Each visit is walked as an engineer walks
it: from the first page, answer by answer, check by check, to the record and its paper. On the way a
page is loaded anew, and on another the browser is shut for an hour while a timer runs.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser import printed_record
from tests.drawn import back_boiler, invented, premix, water_heater
from tests.drawn.visit import WITHIN, is_on
from tests.offline.kept_edition import LONG_MS, expect_state
from tests.offline.server import Site, served
from tests.offline.walk import Walk, value_of

PHONE = {"width": 390, "height": 844}
TABLET = {"width": 810, "height": 1080}
DRAWN = (
    pytest.param((premix.draw(11), TABLET), id="premix"),
    pytest.param((back_boiler.draw(5), TABLET), id="back-boiler"),
    pytest.param((water_heater.draw(2), PHONE), id="water-heater"),
)
INVENTED = [pytest.param((invented.visit(), PHONE), id="invented")]
IN_ORDER, MANY = {"yes", "done"}, 90  # words of a check; steps that say something


@pytest.fixture(scope="module")
def site(editions) -> Iterator[Site]:
    with served(editions.hosted) as there:
        yield there


@pytest.fixture(scope="module")
def device(opened: Browser, site: Site, at_once: str) -> Iterator[BrowserContext]:
    """One that is touched, has kept the edition and has lost the network."""
    faults: list[str] = []
    context = opened.new_context(
        has_touch=True, is_mobile=True, locale="en-GB", reduced_motion="reduce"
    )
    context.set_default_timeout(LONG_MS)
    context.on("weberror", lambda error: faults.append(str(error.error)))
    context.add_init_script(at_once)
    page = context.new_page()
    page.goto(site.address)
    expect_state(page, "kept")
    page.close()
    site.cut()
    context.set_offline(True)
    yield context
    context.close()
    assert faults == []


@pytest.fixture
def walk(device: BrowserContext, site: Site, request: pytest.FixtureRequest) -> Iterator[Walk]:
    walking = Walk(device, site, *request.param)
    yield walking
    session = device.new_cdp_session(walking.page)
    kept = {"origin": site.address.rstrip("/"), "storageTypes": "indexeddb,local_storage"}
    session.send("Storage.clearDataForOrigin", kept)
    walking.page.close()


def kept(walk: Walk, site: Site) -> tuple[dict[str, Any], dict[str, dict[str, Any]]]:
    """Walk the visit to its record; what that keeps, and what it says of each step."""
    visit, asked = walk.visit, len(site.asked)
    if visit.own:
        walk.own_figures()
    walk.begin()
    walk.through()
    record = walk.recorded()
    assert set(site.asked[asked:]) <= {"service-worker.js"}  # the browser itself looks for that
    readings = {each["name"]: each["value"] for each in record["readings"]}
    assert readings == {name: value_of(text) for name, text in visit.readings.items()}
    pages = {*visit.pages, *visit.beside.values()}
    said = {each["step"]: each for each in record["outcomes"] if is_on(each["step"], pages)}
    return readings, said


def on_paper(page: Page) -> None:
    """The record lies on two sides of A4, and nothing on them is cut or empty."""
    assert printed_record.sides(page.pdf(prefer_css_page_size=True, format="A4")) == 2
    printed_record.laid(page)
    expect(page.locator(".hb-printed__side")).to_have_count(2)
    assert printed_record.bare(page) == []
    assert printed_record.faults(page) == []


@pytest.mark.parametrize("walk", DRAWN, indirect=True)
def test_a_visit_is_walked_by_touch_and_its_record_is_what_was_drawn(walk: Walk, site: Site):
    visit = walk.visit
    readings, said = kept(walk, site)
    assert {step: each["state"] for step, each in said.items()} == visit.states
    for step, words in visit.told.items():
        assert words in said[step]["text"].replace("\N{NO-BREAK SPACE}", " "), step
    on_paper(walk.page)
    text = printed_record.words(walk.page)
    assert [value for value in readings.values() if value not in text] == []


@pytest.mark.parametrize("walk", INVENTED, indirect=True)
def test_the_invented_visit_is_walked_field_by_field_to_the_paper_of_its_golden(
    walk: Walk, site: Site
):
    visit, golden = walk.visit, printed_record.GOLDEN
    _, said = kept(walk, site)
    page = walk.page
    assert len(said) > MANY
    odd = {step: each["state"] for step, each in said.items() if each["state"] != WITHIN}
    assert odd == visit.states
    on_paper(page)
    expect(page.locator(".hb-printed__head").first).to_contain_text("side 1 of 2")
    assert printed_record.rows(page) == golden["readings"]
    plate = {" ".join(cell) for cell in printed_record.pairs(page, ".hb-printed__cell").items()}
    assert set(golden["plate"]) <= plate
    expect(page.locator(".hb-printed__summary")).to_contain_text(golden["summary"])
    # As the system's volume, which nothing is held against.
    unjudged = "A line without an outcome was not judged."
    expect(page.locator(".hb-printed__summary")).to_contain_text(unjudged)
    entries = printed_record.pairs(page, ".hb-printed__entry")
    assert {name: entries[name] for name in golden["not_in_order"]} == golden["not_in_order"]
    checks = printed_record.pairs(page, ".hb-printed__check")
    assert len(checks) > 50
    assert {name: word for name, word in checks.items() if word not in IN_ORDER} == golden["checks"]
    # The mark of what was not in order, and no other.
    expect(page.locator(".hb-printed__word--no")).to_have_text(["no, then yes"])
