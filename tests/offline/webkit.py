"""WebKitGTK on a screen that nobody sees, driven through its own driver."""

from __future__ import annotations

import os
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from selenium import webdriver
from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver.webkitgtk.options import Options
from selenium.webdriver.webkitgtk.service import Service

from build_tools.setup import programs
from tests.programs import path_of

LONGEST_S = 120
# It paints by the plain way: without a graphics card each process of a page would first make itself
# a drawn one, which is half of its work.
PLAIN = {"WEBKIT_DISABLE_COMPOSITING_MODE": "1"}


@contextmanager
def webkit() -> Iterator[Any]:
    """A driver, as long as it is needed."""
    options = Options()
    options.binary_location = path_of(programs.WEBKIT)
    options.add_argument("--automation")
    with _screen() as display:
        surroundings = {**os.environ, **PLAIN, "DISPLAY": display}
        service = Service(path_of(programs.WEBKIT_DRIVER), env=surroundings)
        driver = webdriver.WebKitGTK(options=options, service=service)
        try:
            driver.set_script_timeout(60)
            yield driver
        finally:
            driver.quit()
            service.stop()


def wait_for(driver: Any, selector: str) -> Any:
    """The element, as soon as the page has it."""
    deadline = time.monotonic() + LONGEST_S
    while not (found := _elements(driver, selector)):
        assert time.monotonic() < deadline, driver.find_element("tag name", "body").text
        time.sleep(0.1)
    return found[0]


def _elements(driver: Any, selector: str) -> list[Any]:
    """What the page has of it; nothing while one page gives way to the next."""
    try:
        return list(driver.find_elements("css selector", selector))
    except StaleElementReferenceException:
        return []


def enter(driver: Any, readings: dict[str, str]) -> None:
    """Type readings into the calculator of the page."""
    for name, text in readings.items():
        wait_for(driver, f'hb-calculator [name="{name}"]').send_keys(text)


@contextmanager
def _screen() -> Iterator[str]:
    """A display of its own; Xvfb says which number it took."""
    read, write = os.pipe()
    command = [path_of(programs.SCREEN), "-displayfd", str(write), "-nolisten", "tcp"]
    server = subprocess.Popen(command, pass_fds=[write], stderr=subprocess.DEVNULL)
    os.close(write)
    try:
        with os.fdopen(read) as told:
            number = told.readline().strip()
        assert number, "Xvfb did not start."
        yield f":{number}"
    finally:
        server.terminate()
        server.wait()
