"""The hosted edition: kept whole on the device, changed as a whole, explained where it can't be."""

from __future__ import annotations

import hashlib
import re
import shutil
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from build_tools.site import offline
from tests.offline.conftest import PLAIN_HOST
from tests.offline.server import Site, served
from tests.offline.webkit import enter, wait_for, webkit

LONG_MS = 120_000
READINGS = {"volume": "0.1", "elapsed": "100"}
GAS_RATE = "3.600 m³/h"  # 0.1 m³ in 100 s is 0.1 × 3600 ÷ 100 m³/h
ANSWER = '[data-hb-own] [data-hb-answer="flow_rate"]'
PLATE = 'li[data-hb-reading="plate.heat_input_net"]'
CALCULATOR = "calculators/gas_rate.html"
NEWER = "2026-12-24 newer00"
WASM = "assets/runtime/pyodide.asm.wasm"
SNAPSHOT = "assets/runtime/snapshot.bin.gz"
ROOM_FOR_EDITION = 60_000_000  # bytes: enough for the edition
NO_ROOM = 6_000_000  # enough for the pages, not for the runtime

# Puts other bytes in place of a file that is kept, as a failing disk would.
SPOIL = """async ([name, at]) => {
    for (const each of await caches.keys()) {
        const cache = await caches.open(each);
        for (const request of await cache.keys()) {
            if (!request.url.includes(name)) continue;
            const found = await cache.match(request);
            const bytes = new Uint8Array(await found.arrayBuffer());
            bytes[at] ^= 1;
            await cache.put(request, new Response(bytes, {headers: found.headers}));
            return true;
        }
    }
}"""
# Takes a kept file away, as a browser short of room may.
DROP = """async ([name]) => {
    for (const each of await caches.keys()) {
        const cache = await caches.open(each);
        for (const request of await cache.keys()) {
            if (request.url.includes(name)) return cache.delete(request);
        }
    }
}"""
# No driver of WebKit sets a quota. This stands before the service worker: a device with that room.
CACHE_FULL = """{
    let room = %d;
    const put = Cache.prototype.put;
    Cache.prototype.put = async function (request, response) {
        room -= (await response.clone().arrayBuffer()).byteLength;
        if (room < 0) throw new DOMException('No room.', 'QuotaExceededError');
        return put.call(this, request, response);
    };
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
UPDATE = "async () => { await (await navigator.serviceWorker.getRegistration()).update() }"
# Looks for a newer edition and tells what became of it: "installed", or "redundant" if refused.
OUTCOME = """async () => {
    const found = await navigator.serviceWorker.getRegistration();
    const outcome = new Promise((resolve) => {
        const watch = (worker) =>
            worker?.addEventListener('statechange', () => resolve(worker.state));
        watch(found.installing);
        found.addEventListener('updatefound', () => watch(found.installing));
    });
    await found.update();
    return outcome;
}"""


@pytest.fixture
def site(editions) -> Iterator[Site]:
    with served(editions.hosted) as there:
        yield there


@pytest.fixture
def slow_device(opened: Browser) -> Iterator[BrowserContext]:
    """A browser that has never been here. An error that no one handles fails the test."""
    faults: list[str] = []
    context = opened.new_context()
    context.set_default_timeout(LONG_MS)
    context.on("weberror", lambda error: faults.append(str(error.error)))
    yield context
    context.close()
    assert faults == []


@pytest.fixture
def device(slow_device: BrowserContext, at_once: str) -> BrowserContext:
    """The same, and it keeps the edition as soon as the first page has come."""
    slow_device.add_init_script(at_once)
    return slow_device


@pytest.fixture(scope="module")
def newer(editions, tmp_path_factory) -> Path:
    """An edition of a later day, with another name and other words."""
    folder = tmp_path_factory.mktemp("newer") / "hosted"
    shutil.copytree(editions.hosted, folder, ignore=shutil.ignore_patterns("*.zip"))
    for page in folder.rglob("*.html"):
        text = page.read_text("utf-8")
        text = re.sub(
            'name="hb-edition" content="[^"]+"', f'name="hb-edition" content="{NEWER}"', text
        )
        page.write_text(text.replace("<h1", "<h1 data-newer"), "utf-8")
    offline.write(folder, {"edition": NEWER, "figures": {}, "tables": {}}, "hosted")
    return folder


def open_page(device: BrowserContext, site: Site, path: str = "index.html") -> Page:
    page = device.new_page()
    page.goto(site.address + path)
    return page


def expect_state(page: Page, state: str) -> None:
    panel = page.locator("[data-hb-offline]")
    expect(panel).to_have_attribute("data-state", state, timeout=LONG_MS)
    expect(panel).to_be_visible()


def expect_words(page: Page, words: str | re.Pattern[str]) -> None:
    expect(page.locator("[data-hb-offline-words]")).to_contain_text(words)


def answer(page: Page, case: str | None = None) -> None:
    for name, text in READINGS.items():
        page.locator(f'hb-calculator [name="{name}"]').fill(text)
    expect(page.locator(ANSWER), case).to_have_text(GAS_RATE, timeout=LONG_MS)


def kept(device: BrowserContext, site: Site) -> Page:
    page = open_page(device, site)
    expect_state(page, "kept")
    return page


def press(page: Page) -> None:
    page.locator("[data-hb-offline-act]").click()


# To keep the edition is what is dear here: each device below keeps it once, for all it is put to.


def test_after_one_visit_it_works_without_a_network_and_changes_as_a_whole(
    slow_device, site, newer, at_once
):
    page = kept(slow_device, site)
    all_of_it_works_without_a_network(slow_device, page, site)
    site.mend()
    slow_device.set_offline(False)
    slow_device.add_init_script(at_once)
    one_that_does_not_come_whole_changes_nothing(page, site, newer)
    a_newer_edition_is_a_choice_and_loses_nothing(slow_device, page, site, newer)


def all_of_it_works_without_a_network(device: BrowserContext, page: Page, site: Site) -> None:
    day = page.locator('meta[name="hb-edition"]').get_attribute("content").split()[1]
    expect_words(page, re.compile(rf"edition \d+ \w+ \d{{4}} \({day}\), \d+\.\d MB"))
    page.wait_for_load_state("networkidle")
    site.cut()
    device.set_offline(True)
    asked = len(site.asked)
    for kind in ("procedures", "calculators", "reference"):
        page.goto(site.address)
        page.locator(f'#hb-main a[href^="{kind}/"]').first.click()
        page.wait_for_url(re.compile(f"/{kind}/"))
        expect(page.locator("main h1")).to_be_visible()
    page.get_by_role("searchbox").fill("gas rate")
    expect(page.locator(".md-search-result a").first).to_be_visible()
    page.goto(site.address + CALCULATOR)
    answer(page)
    expect_state(page, "kept")
    # The browser itself looks if there is a newer service worker, also past this cut.
    fetched = set(site.asked[asked:]) - {"service-worker.js"}
    assert fetched == set(), "kept, but asked for without a network"


def one_that_does_not_come_whole_changes_nothing(page: Page, site: Site, newer: Path) -> None:
    before, site.folder = site.folder, newer
    site.spoilt[CALCULATOR] = b"cut"
    outcome = page.evaluate(OUTCOME)
    assert outcome == "redundant", "a newer edition that had not come whole was taken"
    site.cut()
    page.goto(site.address + CALCULATOR)
    expect(page.locator("h1[data-newer]"), "not whole, but shown").to_have_count(0)
    expect_state(page, "kept")
    answer(page)
    site.spoilt.clear()
    site.folder = before
    site.mend()


def a_newer_edition_is_a_choice_and_loses_nothing(
    device: BrowserContext, page: Page, site: Site, newer: Path
) -> None:
    page.goto(site.address + "procedures/before_you_start.html")
    page.locator(f"{PLATE} input").fill("27.0")
    expect(page.locator(f"{PLATE} .hb-kept")).to_have_text("Kept")
    page.goto(site.address + CALCULATOR)
    volume = page.locator('hb-calculator [name="volume"]')
    volume.fill("0.2")  # another than was answered before
    site.folder = newer
    page.evaluate(UPDATE)
    expect_state(page, "newer")
    expect_words(page, "A newer edition is ready: 24 December 2026 (newer00).")
    other = open_page(device, site)
    expect(other.locator("h1[data-newer]"), "shown before it was chosen").to_have_count(0)
    press(page)
    for each in (page, other):
        expect(each.locator("h1[data-newer]"), "chosen, but not shown").to_have_count(1)
        expect_state(each, "kept")
        expect_words(each, "24 December 2026 (newer00)")
    expect(volume, "lost to the newer edition").to_have_value("0.2")
    site.cut()
    answer(page)
    page.goto(site.address + "record/visit.html")
    expect(page.locator(f"{PLATE} input"), "lost from the record").to_have_value("27.0")


def test_a_cut_and_a_full_disk_are_explained_and_the_download_goes_on_where_it_stopped(
    slow_device, site, at_once
):
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


WRONG_KINDS = ["text/plain", "application/octet-stream", "text/html; charset=utf-8"]


@pytest.mark.parametrize(
    ("start", "kinds"),
    [("snapshot", WRONG_KINDS), ("ordinary", WRONG_KINDS[:1])],  # the second start is dear
    ids=["snapshot", "ordinary"],
)
def test_a_server_that_sends_the_runtime_as_another_type_stops_nothing(opened, site, start, kinds):
    for kind in kinds:
        site.kinds[".wasm"] = kind
        context = opened.new_context(service_workers="block")
        page = open_page(context, site, f"{CALCULATOR}?start={start}")
        answer(page, kind)
        context.close()


def test_a_device_that_kept_the_runtime_as_another_type_works_without_a_network(device, site):
    site.kinds[".wasm"] = WRONG_KINDS[0]
    page = kept(device, site)
    site.cut()
    page.goto(site.address + CALCULATOR)
    answer(page)


def test_what_a_browser_dropped_is_not_called_kept_and_comes_again(device, site):
    page = kept(device, site)
    site.cut()
    assert page.evaluate(DROP, [WASM])
    page.reload()
    expect_state(page, "interrupted")
    site.mend()
    asked = len(site.asked)
    press(page)
    expect_state(page, "kept")
    assert WASM in site.asked[asked:]
    site.cut()
    page.goto(site.address + CALCULATOR)
    answer(page)


def test_one_count_runs_at_a_time_and_a_button_stays_until_it_is_pressed(device, site):
    page = kept(device, site)
    site.cut()
    assert page.evaluate(DROP, [WASM])
    page.add_init_script(NOTE_QUESTIONS)
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


def test_blocked_storage_is_explained(opened, site):
    context = opened.new_context(service_workers="block")
    page = open_page(context, site, CALCULATOR)
    expect_state(page, "blocked")
    expect_words(page, "The handbook works while there is a network.")
    answer(page)
    context.close()


def test_over_plain_http_the_folder_edition_is_offered(device, site, editions):
    page = device.new_page()
    page.goto(site.address.replace("127.0.0.1", PLAIN_HOST) + CALCULATOR)
    expect_state(page, "plain")
    expect_words(page, "This address begins with http")
    link = page.locator("[data-hb-offline-zip]")
    expect(link).to_have_text(re.compile(r"Folder edition, \d+\.\d MB"))
    with page.expect_download() as told:
        link.click()
    assert told.value.suggested_filename == editions.zip.name
    assert Path(told.value.path()).read_bytes() == editions.zip.read_bytes()
    answer(page)


def test_a_draft_is_never_kept(device, site, editions, tmp_path):
    draft = tmp_path / "draft"
    shutil.copytree(editions.hosted, draft)
    offline.write(draft, {"edition": NEWER, "figures": {}, "tables": {}}, "draft")
    site.folder = draft
    page = open_page(device, site)
    expect_state(page, "draft")
    page.wait_for_timeout(1000)
    assert (
        page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
    )


def test_a_device_may_install_it(whole, site, at_once):
    device = whole.new_context()  # the window's own part of the browser knows what it installs
    device.add_init_script(at_once)
    page = kept(device, site)
    session = device.new_cdp_session(page)
    faults = session.send("Page.getInstallabilityErrors")["installabilityErrors"]
    # A private window, as a test has, installs nothing; that is the one fault it may find.
    assert {fault["errorId"] for fault in faults} <= {"in-incognito"}
    manifest = session.send("Page.getAppManifest")
    assert manifest["errors"] == []
    device.close()


if sys.platform == "linux":  # WebKitGTK is made for no other system
    # selenium's driver for WebKitGTK uses a form of call that selenium itself gives up.
    pytestmark = pytest.mark.filterwarnings("ignore:setting remote_server_addr:DeprecationWarning")
    PANEL = '[data-hb-offline][data-state="{}"]'

    def webkit_answers(driver: Any) -> None:
        enter(driver, READINGS)
        shown = wait_for(driver, ANSWER).get_attribute("textContent")
        assert shown.replace("\N{NO-BREAK SPACE}", " ") == GAS_RATE

    def click(driver: Any, selector: str) -> None:
        driver.execute_script("arguments[0].click()", wait_for(driver, selector))

    def wait_until(driver: Any, script: str) -> None:
        deadline = time.monotonic() + LONG_MS / 1000
        while not driver.execute_script(f"return {script}"):
            assert time.monotonic() < deadline, script
            time.sleep(0.1)

    def done(driver: Any, script: str, *given: Any) -> Any:
        """What an asynchronous script of the tests gives."""
        return driver.execute_async_script(
            "const tell = arguments[1]; (" + script + ")(arguments[0]).then(tell)", list(given)
        )

    def test_webkit_keeps_it_mends_it_and_loses_nothing_to_a_newer_edition(site, newer):
        worker = site.content("service-worker.js")
        site.spoilt["service-worker.js"] = (CACHE_FULL % NO_ROOM).encode() + worker
        with webkit() as driver:
            driver.get(site.address)
            webkit_goes_on_after_a_full_disk_and_a_cut(driver, site)
            webkit_fetches_a_damaged_file_anew(driver, site)
            webkit_works_without_a_network(driver, site)
            site.mend()
            webkit_takes_a_newer_edition_when_told(driver, site, newer)

    def webkit_goes_on_after_a_full_disk_and_a_cut(driver: Any, site: Site) -> None:
        panel = wait_for(driver, PANEL.format("full"))
        assert "There is no room on this device" in panel.text
        site.spoilt.clear()
        site.cut_after = 3  # most of it has come already, and stays
        click(driver, "[data-hb-offline-act]")
        wait_for(driver, PANEL.format("interrupted"))
        asked = len(site.asked)
        site.mend()
        click(driver, "[data-hb-offline-act]")
        wait_for(driver, PANEL.format("kept"))
        rest = set(site.asked[asked:])
        assert rest, "kept, but never fetched"
        assert "index.html" not in rest, "what had come was fetched again"

    def webkit_fetches_a_damaged_file_anew(driver: Any, site: Site) -> None:
        assert done(driver, SPOIL, WASM, 5_000_000)
        asked = len(site.asked)
        driver.get(site.address + CALCULATOR)
        webkit_answers(driver)
        assert WASM in site.asked[asked:], "answered from a damaged file"

    def webkit_works_without_a_network(driver: Any, site: Site) -> None:
        site.cut()
        for kind in ("procedures", "calculators", "reference"):
            driver.get(site.address)
            click(driver, f'#hb-main a[href^="{kind}/"]')
            wait_until(driver, f"location.pathname.includes('/{kind}/')")
            wait_for(driver, "main h1")
        wait_for(driver, ".md-search__input").send_keys("gas rate")
        wait_for(driver, ".md-search-result a")
        webkit_opens_an_empty_calculator(driver, site)
        webkit_answers(driver)

    def webkit_opens_an_empty_calculator(driver: Any, site: Site) -> None:
        driver.get(site.address + CALCULATOR)
        driver.execute_script("sessionStorage.clear(); localStorage.clear()")
        driver.get(site.address + CALCULATOR)

    def webkit_takes_a_newer_edition_when_told(driver: Any, site: Site, newer: Path) -> None:
        webkit_opens_an_empty_calculator(driver, site)
        enter(driver, {"volume": "0.1"})
        site.folder = newer
        done(driver, UPDATE)
        wait_for(driver, PANEL.format("newer"))
        shown = driver.find_elements("css selector", "h1[data-newer]")
        assert shown == [], "shown before it was chosen"
        click(driver, "[data-hb-offline-act]")
        wait_for(driver, "h1[data-newer]")
        field = wait_for(driver, 'hb-calculator [name="volume"]')
        assert field.get_property("value") == "0.1", "lost to the newer edition"
        site.cut()
        enter(driver, {"elapsed": "100"})
        wait_for(driver, ANSWER)
