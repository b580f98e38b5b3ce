"""The frame of a page (menu, search, display) in the browsers that are no Chromium."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from build_tools.runtime import node_programs
from build_tools.setup import programs
from tests.browser.conftest import LIGHTEST_PAGE, NewPage
from tests.offline.webkit import webkit
from tests.programs import path_of

HERE = Path(__file__).parent
WALK = (HERE / "frame_walk.js").read_text("utf-8").rstrip().removesuffix(";")
RUN_IN_FIREFOX = HERE.parent / "web" / "run_in_firefox.mjs"


def test_the_frame_works_in_chromium(new_page: NewPage):
    """So that what fails elsewhere is known for a difference between browsers."""
    assert new_page(LIGHTEST_PAGE, python=False).evaluate(WALK) == []


def test_the_frame_works_in_firefox(without_python):
    program = path_of(programs.FIREFOX)
    told = node_programs.run(RUN_IN_FIREFOX, program, without_python + LIGHTEST_PAGE, WALK)
    assert json.loads(told) == []


if sys.platform == "linux":  # WebKitGTK is made for no other system
    # selenium's driver for WebKitGTK uses a form of call that selenium itself gives up.
    @pytest.mark.filterwarnings("ignore:setting remote_server_addr:DeprecationWarning")
    def test_the_frame_works_in_webkit(without_python):
        with webkit() as driver:
            driver.set_window_size(810, 1080)
            driver.get(without_python + LIGHTEST_PAGE)
            found = driver.execute_async_script(
                f"({WALK})().then(arguments[0], (fault) => arguments[0]([`${{fault}}`]));"
            )
            assert found == []
