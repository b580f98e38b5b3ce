"""The sample configurations, each run by the real server."""

from __future__ import annotations

import gzip
import urllib.error
import urllib.request
from contextlib import ExitStack
from email.message import Message

import pytest
from playwright.sync_api import Browser, expect

from tests.offline.kept_edition import LONG_MS, answer
from tests.offline.real_servers import SAMPLES, apache, caddy, nginx
from tests.site.parsed_page import policy_of

PACKED = {"Accept-Encoding": "gzip"}
# As browsers insist on them. For the snapshot it counts that nobody unpacks it on the way.
TYPES = {
    "index.html": "text/html",
    "assets/css/handbook.css": "text/css",
    "assets/handbook/handbook.js": "text/javascript",
    "assets/runtime/pyodide.asm.wasm": "application/wasm",
    "assets/runtime/snapshot.bin.gz": "application/gzip",
    "assets/fonts/text.woff2": "font/woff2",
    "assets/favicon.svg": "image/svg+xml",
    "handbook.webmanifest": "application/manifest+json",
}
BARE = {"assets/runtime/snapshot.bin.gz", "assets/fonts/text.woff2"}
SMALL = 2000  # bytes: a server may leave such a file as it is
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
}


@pytest.fixture(scope="module", params=["nginx", "nginx under a path", "apache", "caddy"])
def address(request, editions, tmp_path_factory):
    work = tmp_path_factory.mktemp("server")
    with ExitStack() as stack:
        if request.param == "apache":
            yield stack.enter_context(apache(editions.hosted, work))
        elif request.param == "caddy":
            yield stack.enter_context(caddy(editions.hosted, work))
        elif request.param == "nginx":
            yield stack.enter_context(nginx("nginx.conf", editions.hosted, work))
        else:
            sample = "nginx_under_a_path.conf"
            yield stack.enter_context(nginx(sample, editions.hosted, work)) + "handbook/"


def get(address: str, headers: dict[str, str] | None = None) -> tuple[int, Message, bytes]:
    request = urllib.request.Request(address, headers=headers or {})  # noqa: S310  our own server
    try:
        with urllib.request.urlopen(request) as reply:  # noqa: S310  the same
            return reply.status, reply.headers, reply.read()
    except urllib.error.HTTPError as told:
        return told.code, told.headers, told.read()


def test_every_type_and_every_byte_is_right(address, editions):
    for name, kind in TYPES.items():
        status, headers, content = get(address + name, PACKED)
        assert (status, headers.get_content_type()) == (200, kind), name
        coded = headers["Content-Encoding"]
        if name in BARE or (editions.hosted / name).stat().st_size > SMALL:
            assert coded == (None if name in BARE else "gzip"), name
        plain = gzip.decompress(content) if coded else content
        assert plain == (editions.hosted / name).read_bytes(), name


def test_what_a_page_may_do_is_said_in_the_headers_too(address, editions):
    page = (editions.hosted / "index.html").read_text("utf-8")
    for name in ("", "index.html", "assets/handbook/worker.js", "no_such_page.html"):
        _, headers, _ = get(address + name)
        policy = f"{policy_of(page)}; frame-ancestors 'none'"
        assert headers.get_all("Content-Security-Policy") == [policy], name
        for header, value in HEADERS.items():
            assert headers.get_all(header) == [value], name


def test_a_file_is_kept_by_the_browser_only_under_its_hash(address):
    wasm = "assets/runtime/pyodide.asm.wasm"
    for name in ("index.html", "service-worker.js", wasm):
        assert get(address + name)[1].get_all("Cache-Control") == ["no-cache"]
    marked = get(f"{address}{wasm}?v=abc")[1].get_all("Cache-Control")
    assert marked == ["public, max-age=31536000, immutable"]


def test_a_page_that_is_not_there_is_told_in_our_words(address):
    status, _, content = get(address + "procedures/no_such_page.html")
    assert status == 404
    assert b"There is no page at this address" in content


def test_a_reader_gets_answers_and_the_whole_edition(address, opened: Browser, at_once):
    faults: list[str] = []
    context = opened.new_context()
    context.add_init_script(at_once)
    page = context.new_page()
    page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
    page.goto(address + "calculators/gas_rate.html")
    answer(page)
    expect(page.locator("[data-hb-offline]")).to_have_attribute(
        "data-state", "kept", timeout=LONG_MS
    )
    context.close()
    assert faults == []


def test_the_pages_need_no_more_than_the_samples_allow(editions):
    policy = policy_of((editions.hosted / "index.html").read_text("utf-8"))
    for page in editions.hosted.rglob("*.html"):
        assert f'content="{policy}"' in page.read_text("utf-8"), page.name
    for sample in ("nginx_common.inc", "apache.conf", "Caddyfile"):
        assert policy in (SAMPLES / sample).read_text("utf-8"), sample
