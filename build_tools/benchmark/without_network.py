"""The handbook without a network: how soon it is all there, and how soon it then answers."""

import gzip
import shutil
import statistics
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache, partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import unquote, urlsplit

from playwright.sync_api import Page, Playwright

from build_tools import bundle, offline, package
from build_tools.benchmark.browser import Browser, chromium
from build_tools.benchmark.edition_size import PACKED
from build_tools.benchmark.figures import Figure, spread
from build_tools.benchmark.first_answer import by_turns, once

ASKED_READY_S = 20.0
LINK_MBIT = 10
BYTES_PER_SECOND = LINK_MBIT * 1e6 / 8
CHUNK = 16_384
LONGEST_MS = 120_000

# As fast as online; medians of so few starts differ by this much when the same is measured twice.
ASKED_RATIO = 1.1

ASKED_FOLDER_MS = 2500.0
FOLDER_REPEATS = 5
CALCULATOR = "calculators/gas_rate.html"
READINGS = {"volume": "0.1", "elapsed": "100"}
ANSWER = '[data-hb-own] [data-hb-answer="flow_rate"]'
KEPT = '[data-hb-offline][data-state="kept"]'
FIRST = "() => performance.getEntriesByName('hb:first-answer')[0]?.startTime"


@cache
def _packed(file: Path) -> bytes:
    """As a server keeps it ready."""
    content = file.read_bytes()
    return gzip.compress(content, 6) if file.suffix in PACKED else content


class _Link(SimpleHTTPRequestHandler):
    """A server that packs text and wasm, behind a link that all its replies share."""

    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True  # as build_tools/local_server.py
    turn = threading.Lock()

    def do_GET(self) -> None:
        name = unquote(urlsplit(self.path).path).lstrip("/") or "index.html"
        file = Path(self.directory) / name
        if not file.is_file():
            self.send_error(404)
            return
        content = _packed(file)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(name))
        if file.suffix in PACKED:
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Cache-Control", "no-cache")
        self.end_headers()
        for at in range(0, len(content), CHUNK):
            part = content[at : at + CHUNK]
            with self.turn:
                time.sleep(len(part) / BYTES_PER_SECOND)
            self.wfile.write(part)

    def log_message(self, *_: object) -> None:
        pass


class _Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, *_: object) -> None:
        """A page that is left drops its connections: that is no fault."""


@contextmanager
def _slow_link(site: Path) -> Iterator[str]:
    for file in site.rglob("*"):
        if file.is_file():
            _packed(file)
    kinds = {**_Link.extensions_map, ".js": "text/javascript", ".wasm": "application/wasm"}
    handler = type("_LinkOfSite", (_Link,), {"extensions_map": kinds})
    server = _Server(("127.0.0.1", 0), partial(handler, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        server.server_close()


def measure(online: Browser, playwright: Playwright, site: Path, repeats: int) -> list[Figure]:
    """All of them, for a built site."""
    with chromium(site, playwright, keeps=True) as kept:
        return [
            ready(kept, site),
            as_online(online, kept, repeats),
            from_folder(kept, site),
        ]


def ready(browser: Browser, site: Path) -> Figure:
    """From opening the first page until the whole edition is kept on the device."""
    with _slow_link(site) as address:
        page = browser.context.new_page()
        began = time.monotonic()
        page.goto(address)
        page.wait_for_selector(KEPT, timeout=LONGEST_MS)
        took = time.monotonic() - began
        page.close()
    return Figure(f"Kept whole, over {LINK_MBIT} Mbit/s", took, "s", ASKED_READY_S)


def as_online(online: Browser, kept: Browser, repeats: int) -> Figure:
    """First live answer with the server gone, against the same from a server, by turns."""
    page = kept.page("index.html")
    page.wait_for_selector(KEPT, timeout=LONGEST_MS)
    page.close()
    kept.context.set_offline(True)
    ways = {"offline": kept, "online": online}
    times = by_turns(
        {way: partial(once, browser, "snapshot") for way, browser in ways.items()}, repeats
    )
    kept.context.set_offline(False)
    return Figure(
        name="First live answer, offline to online",
        value=statistics.median(times["offline"]) / statistics.median(times["online"]),
        unit="times",
        asked=ASKED_RATIO,
        detail=tuple(f"{way:<10}{spread(times[way])}" for way in ways),
        samples=times,
    )


def from_folder(browser: Browser, site: Path) -> Figure:
    """From opening a calculator on disk until its first answer is drawn."""
    with TemporaryDirectory(ignore_cleanup_errors=True) as scratch:
        folder = Path(scratch) / "folder"
        shutil.copytree(site, folder, ignore=shutil.ignore_patterns("*.zip"))
        package.to_folder(folder)
        offline.write(folder, bundle.make(), "folder")
        address = (folder / CALCULATOR).as_uri()
        took = [_answered(browser.context.new_page(), address) for _ in range(FOLDER_REPEATS)]
    return Figure(
        name="First live answer, folder edition",
        value=statistics.median(took),
        unit="ms",
        asked=ASKED_FOLDER_MS,
        detail=(spread(took),),
        samples={"folder": took},
    )


def _answered(page: Page, address: str) -> float:
    page.goto(address)
    for name, text in READINGS.items():
        page.locator(f'hb-calculator [name="{name}"]').fill(text)
    page.wait_for_selector(ANSWER, timeout=LONGEST_MS)
    took = page.wait_for_function(FIRST).json_value()
    page.close()
    return float(took)
