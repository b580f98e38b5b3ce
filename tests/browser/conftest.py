"""One build, one server and one Chromium for all tests; a fresh, watched page for each."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, Playwright

from tests import chromium
from tests.browser.served import served
from tests.workers import MadeOnce

TABLET = {"width": 810, "height": 1080}
HERE = Path(__file__).parent

NewPage = Callable[..., Page]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def site_folder(made_once: MadeOnce) -> Path:
    """The handbook, built as a reader gets it."""
    from build_tools import site

    return made_once("built", lambda folder: site.build(folder / "site")) / "site"


@pytest.fixture(scope="session")
def address(site_folder: Path) -> Iterator[str]:
    with served(site_folder) as where:
        yield where


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    opened = playwright.chromium.launch(**chromium.launch())
    yield opened
    opened.close()


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


@pytest.fixture
def new_page(browser: Browser, address: str) -> Iterator[NewPage]:
    """Opens a page in a fresh context: `new_page("index.html", color_scheme="dark")`."""
    watches: list[tuple[BrowserContext, Watch]] = []

    def opened(path: str, **options: Any) -> Page:
        # Keeping the whole edition would take longer than a test: see tests/offline.
        usual = {"viewport": TABLET, "locale": "en-GB", "service_workers": "block"}
        context = browser.new_context(**{**usual, **options})
        context.set_default_timeout(20_000)
        watches.append((context, Watch(context, address)))
        page = context.new_page()
        page.goto(address + path)
        return page

    yield opened
    for context, _ in watches:
        context.close()
    assert [fault for _, watch in watches for fault in watch.found] == []
