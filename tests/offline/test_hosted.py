"""The hosted edition: kept whole on the device, changed as a whole, explained where it can't be."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, expect

from build_tools.site import offline
from tests.offline.conftest import PLAIN_HOST
from tests.offline.kept_edition import (
    CALCULATOR,
    NEWER,
    UPDATE,
    answer,
    expect_state,
    expect_words,
    kept,
    open_page,
    press,
)
from tests.offline.server import Site

PLATE = 'li[data-hb-reading="plate.heat_input_net"]'

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
