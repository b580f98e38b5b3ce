"""The Chromium that tests run in.

Most run in its headless shell where there is one: the same engine, and a page takes half the work,
because nothing of a window is made. Tests of what belongs to the window run in the whole browser.
"""

from __future__ import annotations

import os
from functools import cache
from typing import Any

from build_tools.setup import chromium

# The calculators are compiled once, and not a second time to be faster: a test is over before that
# pays, and it takes a sixth of the work. The whole browser and Node do both, as a reader's browser.
COMPILED_ONCE = "--js-flags=--liftoff-only"
SET_UP = "No Chromium. Run the tests with: python3 build_tools/start.py test"


def launch(*arguments: str, whole: bool = False) -> dict[str, Any]:
    """How Playwright launches it here.

    Args:
        arguments: For its command line.
        whole: The browser that readers have, not the headless shell: where its own windows count.
    """
    program = _found(whole=whole)
    assert program, SET_UP
    # Chromium's sandbox does not start for the root user of a container.
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    own = [*([] if whole else [COMPILED_ONCE]), *(["--no-sandbox"] if is_root else [])]
    every = [*arguments, *own]
    return {"executable_path": program, "args": every}


@cache  # each that might do is started once, to see that it does
def _found(*, whole: bool) -> str | None:
    return chromium.find() if whole else find_shell()


def find_shell() -> str | None:
    """The headless shell, else the whole browser; where HB_CHROMIUM names one, that."""
    return chromium.named() or chromium.first(chromium.SHELL_NAMES) or chromium.find()
