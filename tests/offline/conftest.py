"""Both editions, made once: the one for a server and the one for a folder."""

from __future__ import annotations

import os
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright

from build_tools import package
from build_tools.node_programs import WEB
from build_tools.setup import chromium
from tests.workers import MadeOnce

HERE = Path(__file__).parent
# A name that leads to this machine, but that browsers don't take for it: http stays http there.
PLAIN_HOST = "handbook.test"
STICK = "memory stick é"  # a space and an accent, as in the paths that people have


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.browser)


@dataclass(frozen=True)
class Editions:
    """What `package` made, and the zip as a person unpacks it."""

    hosted: Path
    zip: Path
    folder: Path


@pytest.fixture(scope="session")
def editions(made_once: MadeOnce) -> Editions:
    out = made_once("editions", package_and_unpack)
    [made] = out.glob("*.zip")
    return Editions(out / "hosted", made, out / STICK / made.stem)


def package_and_unpack(out: Path) -> None:
    with zipfile.ZipFile(package.package(out)) as archive:
        archive.extractall(out / STICK)


@pytest.fixture(scope="session")
def opened(playwright: Playwright) -> Iterator[Browser]:
    """A Chromium."""
    program = chromium.find()
    assert program, "No Chromium. Run the tests with: python3 build_tools/start.py test"
    # Chromium's sandbox does not start for the root user of a container.
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    arguments = [f"--host-resolver-rules=MAP {PLAIN_HOST} 127.0.0.1"]
    browser = playwright.chromium.launch(
        executable_path=program, args=[*arguments, *(["--no-sandbox"] if is_root else [])]
    )
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def at_once() -> str:
    """A script for a page that keeps the edition at once, not some seconds after it has come."""
    source = (WEB / "src/site/offline.js").read_text("utf-8")
    [pause] = re.findall(r"^const AFTER_LOAD_MS = (\d+);$", source, re.MULTILINE)
    return f"""window.setTimeout = ((real) => (act, ms, ...more) =>
        real(act, ms === {pause} ? 0 : ms, ...more))(window.setTimeout);"""
