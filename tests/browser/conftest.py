"""One build, one server and one Chromium for all tests; a watched page for each.

What a page costs is mostly the start of its Python. So there are three kinds: `new_page` is fresh
and has all; `new_page(…, python=False)` is fresh and its calculators never start; `warm` has one
that has started, and moves it from page to page as a reader does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Error,
    Page,
    Playwright,
    expect,
)

from tests import chromium
from tests.browser.calculator_page import START_MS
from tests.browser.served import served

TABLET = {"width": 810, "height": 1080}
HERE = Path(__file__).parent

# Keeping the whole edition would take longer than a test: see tests/offline.
USUAL: dict[str, Any] = {"viewport": TABLET, "locale": "en-GB", "service_workers": "block"}
PATIENCE_MS = 20_000
REST = "reference/changes.html"  # the lightest page, with no calculator
# Resolves when the page is there. It never does when the browser loads the page instead.
FOLLOW = """path => new Promise((resolve) => {
    document.addEventListener('hb:page', () => resolve(), {once: true});
    const link = document.createElement('a');
    link.href = path;
    document.body.append(link);
    link.click();
    link.remove();
})"""

NewPage = Callable[..., Page]
Before = Callable[[Page], object]
Warm = Callable[[str], Page]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def address(site_folder: Path) -> Iterator[str]:
    with served(site_folder) as where:
        yield where


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    opened = playwright.chromium.launch(**chromium.launch())
    yield opened
    opened.close()


def nothing(_: Page) -> None:
    """What is done to a page before it loads, as a rule."""


class Watch:
    """What a page may not do: speak to another host, fail to load a file, report an error."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.address = address
        self.found: list[str] = []
        context.on("request", lambda request: self._asked(request.url))
        context.on("requestfailed", lambda request: self._failed(request.url, request.failure))
        context.on("response", lambda response: self._answered(response.url, response.status))
        context.on("console", self._said)
        context.on("weberror", lambda error: self.found.append(f"uncaught: {error.error}"))

    def _asked(self, url: str) -> None:
        if not url.startswith((self.address, "data:", "blob:")):
            self.found.append(f"asked another host: {url}")

    def _failed(self, url: str, why: str | None) -> None:
        # A page that is left stops what it was fetching: that is no fault.
        if why != "net::ERR_ABORTED":
            self.found.append(f"did not load: {url} ({why})")

    def _answered(self, url: str, status: int) -> None:
        if status >= 400:
            self.found.append(f"answered {status}: {url}")

    def _said(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self.found.append(f"console: {message.text} ({message.location.get('url')})")


@pytest.fixture(scope="session")
def without_python(site_folder: Path) -> Iterator[str]:
    """Address of the same handbook, where no calculator starts."""
    with served(site_folder, python=False) as where:
        yield where


@pytest.fixture
def new_page(browser: Browser, address: str, without_python: str) -> Iterator[NewPage]:
    """Opens a page in a fresh context: `new_page("index.html", color_scheme="dark")`.

    `before` does something to it that must be done before it loads.
    """
    watches: list[tuple[BrowserContext, Watch]] = []

    def opened(path: str, *, python: bool = True, before: Before = nothing, **options: Any) -> Page:
        where = address if python else without_python
        context = browser.new_context(**{**USUAL, **options})
        context.set_default_timeout(PATIENCE_MS)
        watches.append((context, Watch(context, where)))
        page = context.new_page()
        before(page)
        page.goto(where + path)
        return page

    yield opened
    for context, _ in watches:
        context.close()
    assert [fault for _, watch in watches for fault in watch.found] == []


class WarmPage:
    """One page whose Python has started. What a test leaves on it goes with a move and a wipe."""

    def __init__(self, browser: Browser, address: str) -> None:
        self.address = address
        self.context = browser.new_context(**USUAL)
        self.context.set_default_timeout(PATIENCE_MS)
        self.watch = Watch(self.context, address)
        self.page = self.context.new_page()
        self.page.goto(address + "calculators/gas_rate.html")
        started = self.page.locator("hb-calculator")
        expect(started).to_have_attribute("data-state", "ready", timeout=START_MS)
        [self.worker] = self.page.workers
        self.move(REST)

    def move(self, path: str) -> Page:
        """Follow a link to another page."""
        self.page.evaluate(FOLLOW, f"/{path}")
        return self.page

    def wipe(self) -> None:
        """Be as before the test; raise if that can't be."""
        self.page.emulate_media(media="null", color_scheme="null", reduced_motion="null")
        self.page.set_viewport_size(TABLET)
        self.move(REST)
        self.page.evaluate("sessionStorage.clear(); localStorage.clear(); scrollTo(0, 0)")
        assert self.context.pages == [self.page]
        assert self.page.workers == [self.worker], "The Python of the test before is gone."


class WarmPages:
    """The warm page, made when a test asks for it and when the one before was given up."""

    def __init__(self, browser: Browser, address: str) -> None:
        self.made_by = browser, address
        self.here: WarmPage | None = None

    def get(self) -> WarmPage:
        self.here = self.here or WarmPage(*self.made_by)
        return self.here

    def give_up(self) -> None:
        if self.here:
            self.here.context.close()
        self.here = None


@pytest.fixture(scope="session")
def warm_pages(browser: Browser, address: str) -> Iterator[WarmPages]:
    pages = WarmPages(browser, address)
    yield pages
    pages.give_up()


@pytest.fixture
def warm(warm_pages: WarmPages, request: pytest.FixtureRequest) -> Iterator[Warm]:
    """Moves to a page, on which the calculators are ready: `warm("calculators/gas_rate.html")`.

    A test of a start, a reload, a clock or the first thing that has the focus needs `new_page`.
    The page of a test that fails is closed: no other test goes on with it.
    """
    here = warm_pages.get()
    failed = request.session.testsfailed
    here.watch.found.clear()
    yield here.move
    found = list(here.watch.found)
    try:
        assert request.session.testsfailed == failed
        here.wipe()
    except (AssertionError, Error):
        warm_pages.give_up()
    assert found == []
