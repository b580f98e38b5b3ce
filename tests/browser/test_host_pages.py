"""A host's page in Markdown is as open, as closed to other hosts and as much at home as ours."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.accessibility import COLOURS, DISPLAYS, EVERY_RULE, faults, show
from tests.browser.conftest import PHONE, TABLET, USUAL
from tests.browser.search_box import HITS
from tests.browser.served import served
from tests.browser.watch import Watch
from tests.site import small_site

DESK = {"width": 1280, "height": 800}
PATH = "gas/"  # the site lies under a path of its host
CHANGED = {"docs_dir": "site_url: https://college.example/gas/\ndocs_dir"}
NAV = "nav:\n  - Our house:\n      - house/rules.md\n"
LOOK = """(selector) => {
    const {fontFamily, fontSize, lineHeight, color, backgroundColor} =
        getComputedStyle(document.querySelector(selector));
    return {fontFamily, fontSize, lineHeight, color, backgroundColor};
}"""


@pytest.fixture(scope="module")
def host(tmp_path_factory, site_folder: Path) -> Iterator[str]:
    """Address of a small site, with the scripts and the letters of the whole one."""
    root = tmp_path_factory.mktemp("host")
    site = root / "served" / PATH
    files = {"house/rules.md": small_site.RULES}
    small_site.bound(root, CHANGED, files, NAV, site)
    for name in ("assets/handbook", "assets/fonts"):
        shutil.copytree(site_folder / name, site / name, dirs_exist_ok=True)
    shutil.copy(site_folder / "handbook.webmanifest", site)
    with served(root / "served") as address:
        yield address + PATH


@pytest.fixture
def page(browser: Browser, host: str) -> Iterator[Page]:
    context = browser.new_context(**USUAL)
    watch = Watch(context, host)
    yield context.new_page()
    context.close()
    assert watch.found == []


def test_it_is_open_to_all_and_looks_like_ours_in_each_display(page, host):
    page.goto(host + "house/rules.html")
    for name in DISPLAYS:
        show(page, name)
        rules = EVERY_RULE if name == "light" else COLOURS  # a display changes nothing else
        for size in (PHONE, DESK):
            page.set_viewport_size(size)
            assert faults(page, rules) == [], (name, size)
            assert page.evaluate("document.documentElement.scrollWidth") == size["width"], name
    theirs = page.evaluate(LOOK, "#hb-main p")
    # Its contents have a column, and ours, which has none to list, has no empty one.
    expect(page.locator("#hb-toc").get_by_role("link", name="Vans")).to_be_visible()
    page.locator("#hb-nav").get_by_role("link", name="Gas <rate>").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Gas rate")
    expect(page.locator("#hb-toc")).to_be_hidden()
    page.evaluate("document.querySelector('h1').after(document.createElement('p'))")
    assert page.evaluate(LOOK, "#hb-main p") == theirs


def test_from_under_a_path_it_is_reached_searched_and_turned_dark(page, host):
    page.set_viewport_size(TABLET)
    page.goto(host + "index.html")
    page.get_by_role("button", name="Menu").click()
    page.locator("#hb-nav").get_by_role("link", name="House rules").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("House rules")
    page.get_by_label("Display").first.select_option("Dark")
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")
    page.get_by_role("searchbox").fill("ladder")
    hit = page.locator(f'{HITS}[href$="/gas/house/rules.html#vans"]')
    expect(hit).to_contain_text("Vans")
    hit.click()
    expect(page.locator("#vans")).to_be_in_viewport()
    page.get_by_role("searchbox").fill("time it")
    page.get_by_role("searchbox").press("Escape")
    page.locator(".footnote-ref").click()
    expect(page.locator(".footnote")).to_be_in_viewport()
    assert re.search(r"/gas/house/rules\.html#fn:1$", page.url)
    page.reload()
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")
