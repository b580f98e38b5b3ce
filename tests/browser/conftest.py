"""One build, one server and one Chromium for all tests; a watched page for each.

What a page costs is mostly the start of its Python, then that of a fresh window. So there are four
kinds: `new_page` is fresh and has all; `new_page(…, python=False)` is fresh and its calculators
never start; `used_page` loads such pages in one window, which is wiped between tests; `warm` has a
Python that has started, and moves from page to page as a reader does.

What tests rely on in a page, and a change of it must keep:
  `<hb-calculator calculator="gas_rate" data-state="…">`, its states in `bridge-types.d.ts`,
    with `[data-hb-answer]`, `[data-hb-verdict][data-outcome]`, `[data-hb-refusal]`, and the mark
    `hb:first-answer`
  `<hb-timer data-hb-timer="procedure.step" data-state="ready|running|paused|over">`, `<hb-checks>`
  `li[data-hb-reading]` of the record, with `data-hb-has` once it is kept, and
    `[data-hb-field][data-hb-reading]` of a form
  the event `hb:visit`, which tells each change of the record
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Generic, TypeVar

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    Error,
    Page,
    Playwright,
    Worker,
    expect,
)

from tests import chromium
from tests.browser.calculator_page import START_MS
from tests.browser.served import served
from tests.browser.watch import Watch

PHONE = {"width": 390, "height": 844}
TABLET = {"width": 810, "height": 1080}

# Keeping the whole edition would take longer than a test: see tests/offline.
USUAL: dict[str, Any] = {"viewport": TABLET, "locale": "en-GB", "service_workers": "block"}
PATIENCE_MS = 30_000
LIGHTEST_PAGE = "reference/changes.html"  # the lightest page, with no calculator
EMPTY = "404.html"  # it loads no script
# Resolves when the page is there. It never does when the browser loads the page instead.
FOLLOW = """path => new Promise((resolve) => {
    document.addEventListener('hb:page', () => resolve(), {once: true});
    const link = document.createElement('a');
    link.href = path;
    document.body.append(link);
    link.click();
    link.remove();
})"""

# A device with no room left, or a browser that blocks storage.
STORAGE_FULL = """Storage.prototype.setItem = () => {
    throw new DOMException('full', 'QuotaExceededError'); };"""

# A page is whole soon after it has loaded: test_far_parts.py. No test takes it for whole before.
WHOLE = """addEventListener('load', () =>
    document.documentElement.classList.remove('hb-fresh'));"""

NewPage = Callable[..., Page]
Before = Callable[[Page], object]
Warm = Callable[[str], Page]
UsedPage = Callable[..., Page]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.nodeid.startswith("tests/browser/"):
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


def calculators(page: Page) -> list[Worker]:
    """The workers of a page that compute; the search has one too."""
    return [each for each in page.workers if each.url.partition("?")[0].endswith("/worker.js")]


def nothing(_: Page) -> None:
    """What is done to a page before it loads, as a rule."""


@pytest.fixture(scope="session")
def without_python(site_folder: Path) -> Iterator[str]:
    """Address of the same handbook, where no calculator starts."""
    with served(site_folder, python=False) as where:
        yield where


@pytest.fixture
def new_page(browser: Browser, address: str, without_python: str) -> Iterator[NewPage]:
    """Opens a page in a fresh context: `new_page("index.html", color_scheme="dark")`.

    `before` does something to it that must be done before it loads. `fresh` leaves what is far down
    to the page. `meant` is the error that the test itself has thrown.
    """
    watches: list[tuple[BrowserContext, Watch]] = []

    def opened(
        path: str,
        *,
        python: bool = True,
        fresh: bool = False,
        before: Before = nothing,
        meant: str = "",
        **options: Any,
    ) -> Page:
        where = address if python else without_python
        context = browser.new_context(**{**USUAL, **options})
        context.set_default_timeout(PATIENCE_MS)
        watches.append((context, Watch(context, where, meant)))
        if not fresh:
            context.add_init_script(WHOLE)
        page = context.new_page()
        before(page)
        page.goto(where + path)
        return page

    yield opened
    for context, _ in watches:
        context.close()
    assert [fault for _, watch in watches for fault in watch.found] == []


class LentPage:
    """A page that one test after the other uses. What a test leaves on it goes with a wipe."""

    def __init__(self, browser: Browser, address: str) -> None:
        self.address = address
        self.context = browser.new_context(**USUAL)
        self.context.set_default_timeout(PATIENCE_MS)
        self.context.add_init_script(WHOLE)
        self.watch = Watch(self.context, address)
        self.page = self.context.new_page()

    def give(self, path: str, viewport: Any = TABLET, **media: Any) -> Page:
        """Go to a page, as a reader who comes from elsewhere."""
        self.page.set_viewport_size(viewport)
        self.page.emulate_media(**media)
        self.page.goto(self.address + path)
        return self.page

    def wipe(self) -> None:
        """Be as before the test; raise if that can't be."""
        assert self.context.pages == [self.page]
        self.leave()
        nothing_asked: Any = dict.fromkeys(
            ("media", "color_scheme", "contrast", "reduced_motion", "forced_colors"), "null"
        )
        self.page.emulate_media(**nothing_asked)
        self.page.set_viewport_size(TABLET)
        self.forget()

    def leave(self) -> None:
        """Go where no script of the handbook runs."""
        self.page.goto(self.address + EMPTY)

    def forget(self) -> None:
        """Take away all that pages keep."""
        self.page.evaluate("sessionStorage.clear()")
        session = self.context.new_cdp_session(self.page)
        kept = {"origin": self.address.rstrip("/"), "storageTypes": "all"}
        session.send("Storage.clearDataForOrigin", kept)
        session.detach()


class WarmPage(LentPage):
    """One whose Python has started. It moves from page to page."""

    def __init__(self, browser: Browser, address: str) -> None:
        super().__init__(browser, address)
        self.page.goto(address + "calculators/gas_rate.html")
        started = self.page.locator("hb-calculator")
        expect(started).to_have_attribute("data-state", "ready", timeout=START_MS)
        [self.worker] = calculators(self.page)
        self.leave()

    def move(self, path: str) -> Page:
        """Follow a link to another page."""
        self.page.evaluate(FOLLOW, f"/{path}")
        return self.page

    def leave(self) -> None:
        """Move on: to load a page would end its Python."""
        self.move(LIGHTEST_PAGE)

    def forget(self) -> None:
        """What its tests leave: a wider wipe would cut off what it has open."""
        self.page.evaluate("sessionStorage.clear(); localStorage.clear(); scrollTo(0, 0)")
        assert calculators(self.page) == [self.worker], "The Python of the test before is gone."


Kind = TypeVar("Kind", bound=LentPage)


class Lent(Generic[Kind]):
    """The page that is lent, made when a test asks for it and when the one before was given up."""

    def __init__(self, make: Callable[[], Kind]) -> None:
        self.make = make
        self.here: Kind | None = None

    def to_test(self, session: pytest.Session) -> Iterator[Kind]:
        """Lend it to one test. No other test goes on with the page of one that failed."""
        here = self.here = self.here or self.make()
        failed = session.testsfailed
        here.watch.found.clear()
        yield here
        found = list(here.watch.found)
        try:
            assert session.testsfailed == failed
            here.wipe()
        except (AssertionError, Error):
            self.give_up()
        assert found == []

    def give_up(self) -> None:
        if self.here:
            self.here.context.close()
        self.here = None


@pytest.fixture(scope="session")
def warm_pages(browser: Browser, address: str) -> Iterator[Lent[WarmPage]]:
    pages = Lent(lambda: WarmPage(browser, address))
    yield pages
    pages.give_up()


@pytest.fixture
def warm(warm_pages: Lent[WarmPage], request: pytest.FixtureRequest) -> Iterator[Warm]:
    """Moves to a page, on which the calculators are ready: `warm("calculators/gas_rate.html")`.

    A test of a start, a reload, a clock or the first thing that has the focus needs `new_page`.
    """
    for here in warm_pages.to_test(request.session):
        yield here.move


@pytest.fixture(scope="session")
def used_pages(browser: Browser, without_python: str) -> Iterator[Lent[LentPage]]:
    pages = Lent(lambda: LentPage(browser, without_python))
    yield pages
    pages.give_up()


@pytest.fixture
def used_page(used_pages: Lent[LentPage], request: pytest.FixtureRequest) -> Iterator[UsedPage]:
    """Loads a page where no calculator starts: `used_page("index.html", color_scheme="dark")`.

    A test that puts a script, a clock or a route into the page needs `new_page`: they would stay.
    """
    for here in used_pages.to_test(request.session):
        yield here.give
