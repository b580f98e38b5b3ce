"""The handbook without a network: how soon it is all there, and how soon it then answers.

What it is measured against: the same files fetched plainly over the same link, and the same answer
with a server.
"""

import gzip
import shutil
import statistics
import threading
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache, partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import quote, unquote, urlsplit

from playwright.sync_api import Playwright

from build_tools.bench.browser import Browser, chromium
from build_tools.bench.edition_size import PACKED
from build_tools.bench.first_answer import by_turns, once
from build_tools.bench.measurement import Figure, ratio_by_turns, spread
from build_tools.runtime import bundle
from build_tools.site import offline, package

LINK_MBIT = 10
BYTES_PER_SECOND = LINK_MBIT * 1e6 / 8
CHUNK = 16_384
LONGEST_MS = 120_000

FOLDER_REPEATS = 5
KILO = 1000
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
    disable_nagle_algorithm = True  # as build_tools/serve/local_server.py
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
            from_folder(online, kept, site),
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
        plainly = fetched(site, address)
    return Figure(
        kind="kept",
        ratio=took / plainly,
        told=f"{took:.1f} s over {LINK_MBIT} Mbit/s",
        detail=(f"fetched plainly: {plainly:.1f} s",),
        samples={"kept": [took], "fetched": [plainly]},
    )


def fetched(site: Path, address: str) -> float:
    """Seconds that the files of a site take to come, one after the other."""
    began = time.monotonic()
    for file in site.rglob("*"):
        if file.is_file():
            name = quote(file.relative_to(site).as_posix())
            with urllib.request.urlopen(address + name) as reply:  # noqa: S310  our own server
                reply.read()
    return time.monotonic() - began


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
        kind="offline",
        ratio=ratio_by_turns(times["offline"], times["online"]),
        detail=tuple(f"{way:<10}{spread(times[way])}" for way in ways),
        samples=times,
    )


def from_folder(online: Browser, browser: Browser, site: Path) -> Figure:
    """From opening a calculator on disk until its first answer is drawn, and from a server."""
    with TemporaryDirectory(ignore_cleanup_errors=True) as scratch:
        folder = Path(scratch) / "folder"
        shutil.copytree(site, folder, ignore=shutil.ignore_patterns("*.zip"))
        package.to_folder(folder)
        offline.write(folder, bundle.make(), "folder")
        ways = {
            "folder": (browser, (folder / CALCULATOR).as_uri()),
            "server": (online, online.address + CALCULATOR),
        }
        times = by_turns(
            {way: partial(_answered, one, address) for way, (one, address) in ways.items()},
            FOLDER_REPEATS,
            warm_up=1,
        )
    return Figure(
        kind="folder",
        ratio=ratio_by_turns(times["folder"], times["server"]),
        told=f"{statistics.median(times['folder']) / KILO:.2f} s",
        detail=tuple(f"{way:<10}{spread(times[way])}" for way in ways),
        samples=times,
    )


def _answered(browser: Browser, address: str) -> float:
    page = browser.context.new_page()
    page.goto(address)
    for name, text in READINGS.items():
        page.locator(f'hb-calculator [name="{name}"]').fill(text)
    page.wait_for_selector(ANSWER, timeout=LONGEST_MS)
    took = page.wait_for_function(FIRST).json_value()
    page.close()
    return float(took)
