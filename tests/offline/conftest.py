"""Both editions, made once: the one for a server and the one for a folder."""

from __future__ import annotations

import os
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright

from build_tools import package
from build_tools.setup import chromium

HERE = Path(__file__).parent
# A name that leads to this machine, but that browsers don't take for it: http stays http there.
PLAIN_HOST = "handbook.test"


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
def editions(tmp_path_factory: pytest.TempPathFactory) -> Editions:
    out = tmp_path_factory.mktemp("editions")
    made = package.package(out)
    # A space and an accent, as in the paths that people have.
    unpacked = out / "memory stick é"
    with zipfile.ZipFile(made) as archive:
        archive.extractall(unpacked)
    return Editions(out / "hosted", made, unpacked / made.stem)


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
