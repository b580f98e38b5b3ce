"""The browsers that the editions are opened in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright

from build_tools.setup.paths import WEB
from tests import chromium

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


@pytest.fixture
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
