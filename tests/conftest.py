"""What all tests share: one bridge with the project's own figures."""

from __future__ import annotations

import json
import os
import signal
import threading
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Playwright, expect, sync_playwright

from build_tools.runtime import bundle
from calcs.bridge import Bridge
from tests import workers
from tests.editions import Editions
from tests.editions import made as made_editions
from tests.workers import MadeOnce

# Keeps Playwright from writing the page down at each look: on a long page half of the wait.
EXPECT_LIGHTLY = (Path(__file__).parent / "web" / "expect_lightly.mjs").as_uri()


# A machine that does other work too may take its time: no test measures how long, `bench` does.
EXPECTED_WITHIN_MS = 20_000


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    return workers.how_many(config)


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """Say what is known of the packages: a question that was not answered is not a pass."""
    reports = [each for kind in terminalreporter.stats.values() for each in kind]
    said = [text for each in reports for text in audits(each)]
    if said:
        terminalreporter.section("audit of what is locked")
        terminalreporter.write_line("\n".join(sorted(said)))


def audits(report: Any) -> list[str]:
    is_call = getattr(report, "when", None) == "call"
    told = report.user_properties if is_call else []
    return [str(text) for name, text in told if name == "audit"]


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> MadeOnce:
    """Folders that all workers share."""
    return workers.maker(tmp_path_factory)


@pytest.fixture(scope="session", autouse=True)
def audits_asked(made_once: MadeOnce, request: pytest.FixtureRequest) -> Iterator[None]:
    """Where they are among the tests of this run."""
    asking = threading.Thread(target=workers.audited, args=[made_once])
    wanted = any(item.path.stem == "test_audit" for item in request.session.items)
    if wanted:
        asking.start()
    yield
    if wanted:
        asking.join()


@pytest.fixture(scope="session")
def editions(assets: Path, made_once: MadeOnce) -> Editions:
    """The handbook as it is handed out. Its runtime is the one that was made for all tests."""
    assert assets.is_dir()
    return made_editions(made_once)


@pytest.fixture(scope="session")
def site_folder(editions: Editions) -> Path:
    """The handbook, built as a reader gets it."""
    return editions.hosted


@pytest.fixture(scope="session")
def bundle_text() -> str:
    """The figures and words of the tree as it stands, dated as the editions are.

    So both have one runtime. A row says itself which day it is of.
    """
    return json.dumps(bundle.make(), ensure_ascii=False)


@pytest.fixture(scope="session")
def assets(bundle_text: str, made_once: MadeOnce) -> Path:
    """The runtime and the scripts with those figures, as a site has them."""
    from build_tools.runtime import make_runtime

    made = made_once(
        "runtime", lambda folder: make_runtime.build(folder / "assets", json.loads(bundle_text))
    )
    return made / "assets"


@pytest.fixture(scope="session")
def bridge(bundle_text: str) -> Bridge:
    """The calculators with those figures."""
    return Bridge(bundle_text)


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """What drives browsers. A process can have one at a time, so every test shares it."""
    with ExitStack() as stopping:
        with pytest.MonkeyPatch.context() as environment:
            given = os.environ.get("NODE_OPTIONS", "")
            environment.setenv("NODE_OPTIONS", f"{given} --import {EXPECT_LIGHTLY}".strip())
            started = stopping.enter_context(sync_playwright())
        expect.set_options(timeout=EXPECTED_WITHIN_MS)
        yield started


@pytest.fixture(scope="session")
def heeds_ctrl_c() -> Iterator[None]:
    """What is started now heeds Ctrl-C, also where these tests run in the background and don't."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)
