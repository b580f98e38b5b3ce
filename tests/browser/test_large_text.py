"""Letters at twice their usual size, on a phone: no page has to be pushed sideways to be read."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, Playwright

from tests import chromium
from tests.browser.conftest import USUAL

# The reader's own setting, as the browser knows it: twice the usual 16 px.
TWICE = "--blink-settings=defaultFontSize=32"
# What reaches out of the window, where anything makes the page itself wider than that.
REACHES_OUT = """() => {
    const {clientWidth, scrollWidth} = document.documentElement;
    if (scrollWidth <= clientWidth) return [];
    return [...document.body.querySelectorAll('*')]
        .filter((each) => each.getBoundingClientRect().right > clientWidth + 1)
        .map((each) => `${each.tagName}.${each.className} ${each.textContent.trim().slice(0, 40)}`);
}"""


@pytest.fixture
def phone(playwright: Playwright) -> Iterator[Page]:
    browser = playwright.chromium.launch(**chromium.launch(TWICE))
    context = browser.new_context(**{**USUAL, "viewport": {"width": 390, "height": 844}})
    page = context.new_page()
    yield page
    browser.close()


def test_no_page_scrolls_sideways_at_twice_the_size(phone, without_python, site_folder):
    paths = sorted(path.relative_to(site_folder).as_posix() for path in site_folder.rglob("*.html"))
    assert len(paths) > 50
    found = {}
    for path in paths:
        phone.goto(without_python + path)
        size = phone.evaluate("parseFloat(getComputedStyle(document.documentElement).fontSize)")
        assert size > 30, "the setting did not reach the page"
        if out := phone.evaluate(REACHES_OUT):
            found[path] = out[-3:]
    assert found == {}
