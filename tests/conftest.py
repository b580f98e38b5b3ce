"""What all tests share: one bridge with the project's own records."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, sync_playwright

from build_tools import bundle
from calcs.bridge import Bridge
from tests.rows import TODAY


@pytest.fixture(scope="session")
def bundle_text() -> str:
    """The records and words of the tree as it stands, dated as the rows are."""
    return json.dumps(bundle.make(date.fromisoformat(TODAY)), ensure_ascii=False)


@pytest.fixture(scope="session")
def assets(bundle_text: str, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The runtime and the scripts with those records, as a site has them."""
    from build_tools import runtime

    folder = tmp_path_factory.mktemp("runtime") / "assets"
    runtime.build(folder, json.loads(bundle_text))
    return folder


@pytest.fixture(scope="session")
def bridge(bundle_text: str) -> Bridge:
    """The calculators with those records."""
    return Bridge(bundle_text)


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """What drives browsers. A process can have one at a time, so every test shares it."""
    with sync_playwright() as started:
        yield started
