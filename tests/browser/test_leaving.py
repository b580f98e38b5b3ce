"""What was typed last is kept though the page is left at once, in three browsers."""

from __future__ import annotations

import json
import shutil
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect
from selenium.common.exceptions import WebDriverException

from build_tools.runtime import node_programs
from build_tools.setup import programs
from tests.browser import leaving
from tests.browser.conftest import EMPTY, PATIENCE_MS, STORAGE_FULL, NewPage, UsedPage
from tests.browser.leaving import READING, STEPS
from tests.browser.served import served
from tests.offline.webkit import webkit
from tests.programs import path_of

LATEST_S = 60
LINE = f'li[data-hb-reading="{READING}"]'
LEAVE_IN_FIREFOX = Path(__file__).parent.parent / "web" / "leave_in_firefox.mjs"
RECORD = "record/visit.html"


def field(page: Page) -> Any:
    return page.locator(f"{LINE} input").first


def left_in_chromium(page: Page, address: str, leave: dict[str, Any]) -> Page:
    """Types and leaves; the page on which it then should stand."""
    if leave["way"] == "close":
        page.evaluate(leaving.typing(leave))
        page.wait_for_timeout(leave["ms"])
        other = page.context.new_page()
        page.close()
        other.goto(address + STEPS)
        return other
    with page.expect_navigation():
        page.evaluate(leaving.typing(leave))
    return page


@pytest.fixture(scope="module")
def bare(site_folder, tmp_path_factory) -> Iterator[str]:
    """Address of one page of the handbook, with its scripts and without its look."""
    folder = tmp_path_factory.mktemp("bare")
    shutil.copytree(site_folder / "assets", folder / "assets")
    page = folder / STEPS
    page.parent.mkdir()
    page.write_text(leaving.alone((site_folder / STEPS).read_text("utf-8")), "utf-8")
    with served(folder, bare=True) as where:
        yield where


def test_chromium_keeps_what_was_typed_last(browser: Browser, bare):
    page = browser.new_context().new_page()
    page.goto(bare + STEPS)
    found = []
    for leave in leaving.leaves():
        field(page).wait_for()
        page = left_in_chromium(page, bare, leave)
        try:
            expect(field(page)).to_have_value(leave["text"], timeout=5000)
        except AssertionError:
            found.append(field(page).input_value())
        else:
            found.append(leave["text"])
    page.context.close()
    assert leaving.lost(found) == []


def test_firefox_keeps_what_was_typed_last(bare):
    plan = json.dumps(leaving.plan(bare))
    told = node_programs.run(LEAVE_IN_FIREFOX, path_of(programs.FIREFOX), plan)
    assert leaving.lost(json.loads(told)) == []


def asked(driver: Any, script: str) -> Any:
    """What a script waits for, on a page that stays."""
    return driver.execute_async_script(
        f"const tell = arguments[0]; Promise.resolve({script}).then(tell)"
    )


def until_another_page(driver: Any, before: float) -> None:
    """Wait till the page has given way. A script that waited on it would never give an answer."""
    deadline = time.monotonic() + LATEST_S
    while time.monotonic() < deadline:
        with suppress(WebDriverException):
            if driver.execute_script(f"return {leaving.ORIGIN}") != before:
                return
        time.sleep(0.02)


def left_in_webkit(driver: Any, address: str, leave: dict[str, Any]) -> str | None:
    """The same; the tab that is closed leaves another."""
    before = asked(driver, leaving.READY)
    driver.execute_script(leaving.typing(leave))
    if leave["way"] == "close":
        time.sleep(leave["ms"] / 1000)
        old = driver.current_window_handle
        driver.switch_to.new_window("tab")
        new = driver.current_window_handle
        driver.switch_to.window(old)
        driver.close()
        driver.switch_to.window(new)
        driver.get(address + STEPS)
    else:
        until_another_page(driver, before)
    return asked(driver, leaving.arriving(leave, before))


if sys.platform == "linux":  # WebKitGTK is made for no other system
    # selenium's driver for WebKitGTK uses a form of call that selenium itself gives up.
    @pytest.mark.filterwarnings("ignore:setting remote_server_addr:DeprecationWarning")
    def test_webkit_keeps_what_was_typed_last(bare):
        with webkit() as driver:
            driver.get(bare + STEPS)
            found = [left_in_webkit(driver, bare, leave) for leave in leaving.leaves()]
        assert leaving.lost(found) == []


def test_a_note_is_kept_too_and_a_field_that_was_emptied_stays_empty(used_page: UsedPage):
    page = used_page(RECORD)
    area = page.locator("#hb-written-defects")
    for number in range(6):
        area.fill(f"A torn seal, {number}.")
        page.reload()
        expect(area).to_have_value(f"A torn seal, {number}.")
    area.fill("")
    page.reload()
    expect(page.locator("[data-hb-visit-head]")).to_be_visible()
    expect(area).to_have_value("")
    assert page.evaluate(PLACES) == []


PLACES = "Object.keys(localStorage).filter((key) => key.startsWith('hb:typed:'))"
# What a page left behind, of a moment before or after the one that is kept.
LEAVE_BEHIND = f"""([place, text, at]) => localStorage.setItem('hb:typed:' + place, JSON.stringify([
    {{visit: null, key: 'reading:{READING}', at,
      entry: text && {{kind: 'reading', name: '{READING}', label: 'Inlet', value: text,
                      unit: 'mbar', at}}}}]))"""


def until_empty(page: Page) -> None:
    """Wait till nothing is left behind.

    The site's policy forbids `wait_for_function`, which uses `eval`.
    """
    deadline = time.monotonic() + LATEST_S
    while left := page.evaluate(PLACES):
        assert time.monotonic() < deadline, left
        page.wait_for_timeout(20)


def test_the_later_of_two_windows_stays_and_doing_it_twice_changes_nothing(used_page: UsedPage):
    page = used_page(STEPS)
    field(page).fill("20.0")
    expect(page.locator(f"{LINE} .hb-kept").first).to_have_text("Kept")
    page.evaluate(LEAVE_BEHIND, ["old", "10.0", "2020-01-01T00:00:00.000Z"])
    page.evaluate("localStorage.setItem('hb:typed:junk', '[{\"key\": 3}, null, 7]')")
    page.reload()
    expect(page.locator("[data-hb-visit-bar]")).to_contain_text("Readings go into")
    expect(field(page)).to_have_value("20.0")
    until_empty(page)
    for _ in range(2):
        page.evaluate(LEAVE_BEHIND, ["new", "21.0", "2999-01-01T00:00:00.000Z"])
        page.evaluate(LEAVE_BEHIND, ["newer", "22.0", "2999-01-01T00:00:00.001Z"])
        page.reload()
        expect(field(page)).to_have_value("22.0")
        until_empty(page)
    # A clock that was put back does not keep the reader from typing another figure.
    field(page).fill("23.0")
    page.reload()
    expect(field(page)).to_have_value("23.0")
    page.evaluate(LEAVE_BEHIND, ["out", None, "2999-01-02T00:00:00.000Z"])
    page.reload()
    until_empty(page)
    expect(field(page)).to_have_value("")


def test_what_a_closed_tab_left_comes_into_the_pages_that_are_open(new_page: NewPage):
    page = new_page(STEPS, python=False)
    others = [page.context.new_page() for _ in range(2)]
    for other, path in zip(others, (STEPS, RECORD), strict=True):
        other.goto(page.url.replace(STEPS, path))
        expect(other.locator("[data-hb-reading]").first).to_be_attached()
    page.bring_to_front()
    field(page).wait_for()
    page.evaluate(leaving.typing({"way": "close", "ms": 0, "text": "20.7"}))
    page.close()
    for other in others:
        expect(field(other)).to_have_value("20.7", timeout=PATIENCE_MS)
        until_empty(other)
    # One visit holds it, whichever page was first.
    assert others[1].locator("[data-hb-visit]").count() == 1
    others[0].close()


def test_without_room_for_it_what_is_typed_is_kept_without_waiting(new_page: NewPage):
    page = new_page(EMPTY, python=False)
    page.add_init_script(STORAGE_FULL)
    page.goto(page.url.replace(EMPTY, STEPS))
    page.clock.install()  # no timer of the page runs on: what waits is never kept
    field(page).fill("20.5")
    page.clock.run_for(1)
    expect(page.locator(f"{LINE} .hb-kept").first).to_have_text("Kept")
