"""The browsers that the editions are opened in."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Playwright

from build_tools.setup.paths import WEB
from build_tools.site import offline
from tests import chromium
from tests.offline.kept_edition import LONG_MS, NEWER
from tests.offline.server import Site, served

HERE = Path(__file__).parent
# A name that leads to this machine, but that browsers don't take for it: http stays http there.
PLAIN_HOST = "handbook.test"
LEADS_HERE = f"--host-resolver-rules=MAP {PLAIN_HOST} 127.0.0.1"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.nodeid.startswith("tests/offline/"):
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def opened(playwright: Playwright) -> Iterator[Browser]:
    """A Chromium."""
    browser = playwright.chromium.launch(**chromium.launch(LEADS_HERE))
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def whole(playwright: Playwright) -> Iterator[Browser]:
    """The Chromium that readers have, with all that belongs to its window."""
    browser = playwright.chromium.launch(**chromium.launch(LEADS_HERE, whole=True))
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def at_once() -> str:
    """A script for a page that keeps the edition at once, not some seconds after it has come."""
    source = (WEB / "src/offline/offline.js").read_text("utf-8")
    [pause] = re.findall(r"^const AFTER_LOAD_MS = (\d+);$", source, re.MULTILINE)
    return f"""window.setTimeout = ((real) => (act, ms, ...more) =>
        real(act, ms === {pause} ? 0 : ms, ...more))(window.setTimeout);"""


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


@pytest.fixture(scope="session")
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
