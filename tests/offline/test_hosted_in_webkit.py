"""The hosted edition in WebKit: kept whole, mended, changed as a whole."""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import Any

import pytest

from tests.offline.kept_edition import (
    ANSWER,
    CALCULATOR,
    GAS_RATE,
    LONG_MS,
    NO_ROOM,
    READINGS,
    SPOIL,
    UPDATE,
    WASM,
)
from tests.offline.server import Site
from tests.offline.webkit import enter, wait_for, webkit

PLATE = 'li[data-hb-reading="plate.heat_input_net"]'

# No driver of WebKit sets a quota. This stands before the service worker: a device with that room.
CACHE_FULL = """{
    let room = %d;
    const put = Cache.prototype.put;
    Cache.prototype.put = async function (request, response) {
        room -= (await response.clone().arrayBuffer()).byteLength;
        if (room < 0) throw new DOMException('No room.', 'QuotaExceededError');
        return put.call(this, request, response);
    };
}"""

if sys.platform == "linux":  # WebKitGTK is made for no other system
    # selenium's driver for WebKitGTK uses a form of call that selenium itself gives up.
    pytestmark = pytest.mark.filterwarnings("ignore:setting remote_server_addr:DeprecationWarning")
    PANEL = '[data-hb-offline][data-state="{}"]'

    def webkit_answers(driver: Any) -> None:
        enter(driver, READINGS)
        shown = wait_for(driver, ANSWER).get_attribute("textContent")
        assert shown.replace("\N{NO-BREAK SPACE}", " ") == GAS_RATE

    def click(driver: Any, selector: str) -> None:
        driver.execute_script("arguments[0].click()", wait_for(driver, selector))

    def wait_until(driver: Any, script: str) -> None:
        deadline = time.monotonic() + LONG_MS / 1000
        while not driver.execute_script(f"return {script}"):
            assert time.monotonic() < deadline, script
            time.sleep(0.1)

    def done(driver: Any, script: str, *given: Any) -> Any:
        """What an asynchronous script of the tests gives."""
        return driver.execute_async_script(
            "const tell = arguments[1]; (" + script + ")(arguments[0]).then(tell)", list(given)
        )

    def test_webkit_keeps_it_mends_it_and_loses_nothing_to_a_newer_edition(site, newer):
        worker = site.content("service-worker.js")
        site.spoilt["service-worker.js"] = (CACHE_FULL % NO_ROOM).encode() + worker
        with webkit() as driver:
            driver.get(site.address)
            webkit_goes_on_after_a_full_disk_and_a_cut(driver, site)
            webkit_fetches_a_damaged_file_anew(driver, site)
            webkit_works_without_a_network(driver, site)
            site.mend()
            webkit_takes_a_newer_edition_when_told(driver, site, newer)

    def webkit_goes_on_after_a_full_disk_and_a_cut(driver: Any, site: Site) -> None:
        panel = wait_for(driver, PANEL.format("full"))
        assert "There is no room on this device" in panel.text
        site.spoilt.clear()
        site.cut_after = 3  # most of it has come already, and stays
        click(driver, "[data-hb-offline-act]")
        wait_for(driver, PANEL.format("interrupted"))
        asked = len(site.asked)
        site.mend()
        click(driver, "[data-hb-offline-act]")
        wait_for(driver, PANEL.format("kept"))
        rest = set(site.asked[asked:])
        assert rest, "kept, but never fetched"
        assert "index.html" not in rest, "what had come was fetched again"

    def webkit_fetches_a_damaged_file_anew(driver: Any, site: Site) -> None:
        assert done(driver, SPOIL, WASM, 5_000_000)
        asked = len(site.asked)
        driver.get(site.address + CALCULATOR)
        webkit_answers(driver)
        assert WASM in site.asked[asked:], "answered from a damaged file"

    def webkit_works_without_a_network(driver: Any, site: Site) -> None:
        site.cut()
        for kind in ("procedures", "calculators", "reference"):
            driver.get(site.address)
            click(driver, f'#hb-main a[href^="{kind}/"]')
            wait_until(driver, f"location.pathname.includes('/{kind}/')")
            wait_for(driver, "main h1")
        wait_for(driver, ".md-search__input").send_keys("gas rate")
        wait_for(driver, ".md-search-result a")
        webkit_opens_an_empty_calculator(driver, site)
        webkit_answers(driver)

    def webkit_opens_an_empty_calculator(driver: Any, site: Site) -> None:
        driver.get(site.address + CALCULATOR)
        driver.execute_script("sessionStorage.clear(); localStorage.clear()")
        driver.get(site.address + CALCULATOR)

    def webkit_takes_a_newer_edition_when_told(driver: Any, site: Site, newer: Path) -> None:
        webkit_opens_an_empty_calculator(driver, site)
        enter(driver, {"volume": "0.1"})
        site.folder = newer
        done(driver, UPDATE)
        wait_for(driver, PANEL.format("newer"))
        shown = driver.find_elements("css selector", "h1[data-newer]")
        assert shown == [], "shown before it was chosen"
        click(driver, "[data-hb-offline-act]")
        wait_for(driver, "h1[data-newer]")
        field = wait_for(driver, 'hb-calculator [name="volume"]')
        assert field.get_property("value") == "0.1", "lost to the newer edition"
        site.cut()
        enter(driver, {"elapsed": "100"})
        wait_for(driver, ANSWER)
