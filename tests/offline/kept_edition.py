"""An edition that a device keeps, as its reader handles it."""

from __future__ import annotations

import re

from playwright.sync_api import BrowserContext, Page, expect

from tests.offline.server import Site

LONG_MS = 120_000
READINGS = {"volume": "0.1", "elapsed": "100"}
GAS_RATE = "3.600 m³/h"  # 0.1 m³ in 100 s is 0.1 × 3600 ÷ 100 m³/h
ANSWER = '[data-hb-own] [data-hb-answer="flow_rate"]'
CALCULATOR = "calculators/gas_rate.html"
NEWER = "2026-12-24 newer00"
WASM = "assets/runtime/pyodide.asm.wasm"
SNAPSHOT = "assets/runtime/snapshot.bin.gz"
NO_ROOM = 6_000_000  # enough for the pages, not for the runtime
# Puts other bytes in place of a file that is kept, as a failing disk would.
SPOIL = """async ([name, at]) => {
    for (const each of await caches.keys()) {
        const cache = await caches.open(each);
        for (const request of await cache.keys()) {
            if (!request.url.includes(name)) continue;
            const found = await cache.match(request);
            const bytes = new Uint8Array(await found.arrayBuffer());
            bytes[at] ^= 1;
            await cache.put(request, new Response(bytes, {headers: found.headers}));
            return true;
        }
    }
}"""


UPDATE = "async () => { await (await navigator.serviceWorker.getRegistration()).update() }"


def open_page(device: BrowserContext, site: Site, path: str = "index.html") -> Page:
    page = device.new_page()
    page.goto(site.address + path)
    return page


def expect_state(page: Page, state: str) -> None:
    panel = page.locator("[data-hb-offline]")
    expect(panel).to_have_attribute("data-state", state, timeout=LONG_MS)
    expect(panel).to_be_visible()


def expect_words(page: Page, words: str | re.Pattern[str]) -> None:
    expect(page.locator("[data-hb-offline-words]")).to_contain_text(words)


def answer(page: Page, case: str | None = None) -> None:
    for name, text in READINGS.items():
        page.locator(f'hb-calculator [name="{name}"]').fill(text)
    expect(page.locator(ANSWER), case).to_have_text(GAS_RATE, timeout=LONG_MS)


def kept(device: BrowserContext, site: Site) -> Page:
    page = open_page(device, site)
    expect_state(page, "kept")
    return page


def press(page: Page) -> None:
    page.locator("[data-hb-offline-act]").click()
