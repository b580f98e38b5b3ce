"""The hosted edition, cut off, damaged or short of room: told, and mended where it can be."""

from __future__ import annotations

import hashlib
import re
import time

from playwright.sync_api import BrowserContext, Page, expect

from tests.offline.kept_edition import (
    CALCULATOR,
    LONG_MS,
    NO_ROOM,
    SNAPSHOT,
    SPOIL,
    WASM,
    answer,
    expect_state,
    expect_words,
    open_page,
    press,
)
from tests.offline.server import Site

ROOM_FOR_EDITION = 60_000_000  # bytes: enough for the edition
WRONG_KINDS = ["text/plain", "application/octet-stream", "text/html; charset=utf-8"]
# Takes a kept file away, as a browser short of room may.
DROP = """async ([name]) => {
    for (const each of await caches.keys()) {
        const cache = await caches.open(each);
        for (const request of await cache.keys()) {
            if (request.url.includes(name)) return cache.delete(request);
        }
    }
}"""


# What a kept file holds now.
KEPT_HASH = """async ([name]) => {
    for (const each of await caches.keys()) {
        const cache = await caches.open(each);
        for (const request of await cache.keys()) {
            if (!request.url.includes(name)) continue;
            const bytes = await (await cache.match(request)).arrayBuffer();
            const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
            return [...hash].map((byte) => byte.toString(16).padStart(2, '0')).join('');
        }
    }
}"""


# Notes what the page asks its service worker, and whether the one before was still unanswered.
NOTE_QUESTIONS = """window.questions = [];
window.unanswered = 0;
window.overlaps = 0;
const send = ServiceWorker.prototype.postMessage;
ServiceWorker.prototype.postMessage = function (question, [port]) {
    questions.push(question);
    overlaps += unanswered;
    unanswered += 1;
    const other = new MessageChannel();
    other.port1.onmessage = ({data}) => {
        unanswered -= 1;
        port.postMessage(data);
    };
    return send.call(this, question, [other.port2]);
};"""


# To keep the edition is what is dear here: each device below keeps it once, for all it is put to.


def test_a_cut_and_a_full_disk_are_explained_and_what_is_kept_is_counted_and_comes_again(
    slow_device, site, at_once
):
    site.kinds[".wasm"] = WRONG_KINDS[0]
    page = a_download_goes_on_where_it_stopped(slow_device, site, at_once)
    a_runtime_that_was_kept_as_another_type_works_without_a_network(page, site)
    one_count_runs_at_a_time_and_a_button_stays_until_it_is_pressed(page, site)
    what_a_browser_dropped_comes_again(page, site)


def a_download_goes_on_where_it_stopped(
    slow_device: BrowserContext, site: Site, at_once: str
) -> Page:
    page = open_page(slow_device, site)
    page.wait_for_load_state()
    slow_device.add_init_script(at_once)
    came = cut_after_some(page, site)
    session = slow_device.new_cdp_session(page)
    limit = {"origin": site.address.rstrip("/"), "quotaSize": NO_ROOM}
    session.send("Storage.overrideQuotaForOrigin", limit)
    site.mend()
    goes_on_to(page, site, "full", came)
    expect_words(page, re.compile(r"There is no room on this device .* It needs \d+\.\d MB"))
    page.goto(site.address + CALCULATOR)
    answer(page)
    expect_state(page, "full")
    session.send("Storage.overrideQuotaForOrigin", {**limit, "quotaSize": ROOM_FOR_EDITION * 4})
    goes_on_to(page, site, "kept", came)
    return page


def cut_after_some(page: Page, site: Site) -> set[str]:
    """The files that came before the cut."""
    before = len(site.asked)
    site.cut_after = 60
    expect_state(page, "interrupted")
    expect_words(page, "What has come is kept.")
    came = set(site.asked[before : before + 60])
    assert len(came) > 50
    return came


def goes_on_to(page: Page, site: Site, state: str, came: set[str]) -> None:
    """Go on with the download. What had come before the cut is not fetched twice."""
    again = len(site.asked)
    press(page)
    expect_state(page, state)
    asked = site.asked[again:]
    assert asked
    assert set(asked) & came - {"service-worker.js"} == set(), f"fetched twice until {state}"


def a_runtime_that_was_kept_as_another_type_works_without_a_network(page: Page, site: Site) -> None:
    site.cut()
    page.goto(site.address + CALCULATOR)
    answer(page)


def one_count_runs_at_a_time_and_a_button_stays_until_it_is_pressed(page: Page, site: Site) -> None:
    """What a browser dropped is not called kept."""
    page.add_init_script(NOTE_QUESTIONS)
    page.goto(site.address)
    expect_state(page, "kept")
    assert page.evaluate(DROP, [WASM])
    page.reload()
    expect_state(page, "interrupted")
    page.evaluate("navigator.serviceWorker.ready")
    page.wait_for_timeout(1000)  # a second count by itself would have begun
    assert page.evaluate("questions") == ["hb:count", "hb:complete"]
    # Three times the network comes back at once: one count, and one more for the two after it.
    page.evaluate("for (const _ of [1, 2, 3]) window.dispatchEvent(new Event('online'))")
    deadline = time.monotonic() + LONG_MS / 1000
    while page.evaluate("questions.length") < 6 and time.monotonic() < deadline:
        page.wait_for_timeout(50)
    expect_state(page, "interrupted")
    assert page.evaluate("[questions.length, overlaps]") == [6, 0]


def what_a_browser_dropped_comes_again(page: Page, site: Site) -> None:
    site.mend()
    asked = len(site.asked)
    press(page)
    expect_state(page, "kept")
    assert WASM in site.asked[asked:]
    site.cut()
    page.goto(site.address + CALCULATOR)
    answer(page)


DAMAGES = {
    "does not compile": (WASM, 4),
    "still compiles": (WASM, 5_000_000),
    "does not unpack": (SNAPSHOT, 1_000_000),
}


def test_wrong_bytes_are_refused_from_the_server_and_fetched_anew_on_the_device(device, site):
    page = a_file_that_changes_on_the_server_in_the_meantime_is_refused(device, site)
    for case, (name, at) in DAMAGES.items():
        a_kept_file_that_is_damaged_is_fetched_anew(page, site, case, name, at)


def a_file_that_changes_on_the_server_in_the_meantime_is_refused(
    device: BrowserContext, site: Site
) -> Page:
    name = "procedures/burner_pressure.html"
    site.spoilt[name] = b"<!doctype html><title>Of another edition</title>"
    page = open_page(device, site)
    expect_state(page, "interrupted")
    site.spoilt.clear()
    press(page)
    expect_state(page, "kept")
    site.cut()
    page.goto(site.address + name)
    expect(page.locator("main h1"), "the changed file was kept").to_be_visible()
    return page


def a_kept_file_that_is_damaged_is_fetched_anew(
    page: Page, site: Site, case: str, name: str, at: int
) -> None:
    site.mend()
    right = hashlib.sha256((site.folder / name).read_bytes()).hexdigest()
    assert page.evaluate(SPOIL, [name, at]), case
    assert page.evaluate(KEPT_HASH, [name]) != right, case
    asked = len(site.asked)
    page.goto(site.address + CALCULATOR)
    answer(page, case)
    deadline = time.monotonic() + LONG_MS / 1000  # the files are looked at after the first answers
    while name not in site.asked[asked:] or page.evaluate(KEPT_HASH, [name]) != right:
        assert time.monotonic() < deadline, (case, site.asked[asked:])
        page.wait_for_timeout(200)
    site.cut()
    page.reload()
    answer(page, f"{case}, then without a network")


def test_a_server_that_sends_the_runtime_as_another_type_stops_nothing(opened, site):
    """The start is the snapshot's: see `tests/runtime/test_runtime_in_browser.py` for the other."""
    for kind in WRONG_KINDS:
        site.kinds[".wasm"] = kind
        context = opened.new_context(service_workers="block")
        page = open_page(context, site, f"{CALCULATOR}?start=snapshot")
        answer(page, kind)
        context.close()


def test_an_address_may_ask_for_the_ordinary_start(opened, site):
    """As the worker of its page is told; it is left before it has begun."""
    context = opened.new_context(service_workers="block")
    page = context.new_page()
    with page.expect_worker() as worker:
        page.goto(f"{site.address}{CALCULATOR}?start=ordinary")
    assert worker.value.url.endswith("/worker.js?start=ordinary")
    context.close()
