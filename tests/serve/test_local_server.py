"""The server of `serve`: types of files, a port that is taken, what it adds to a page."""

from __future__ import annotations

import json
import os
import socket
import struct
import threading
import urllib.error
import urllib.request
from contextlib import contextmanager

import pytest

from build_tools.serve import local_server
from build_tools.serve.local_server import Shown


@contextmanager
def served(shown: Shown, port: int = 8765):
    server = local_server.opened(port, shown)
    thread = threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True)
    thread.start()
    try:
        yield local_server.address(server)
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


def fetched(address: str):
    return urllib.request.urlopen(address)  # noqa: S310  # an address of our own making


@pytest.fixture
def shown(tmp_path) -> Shown:
    return Shown(tmp_path / "site")


@pytest.fixture
def site(shown):
    shown.site.mkdir()
    return shown.site


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("pyodide.asm.wasm", "application/wasm"),  # or the browser compiles it the slow way
        ("snapshot.bin.gz", "application/gzip"),  # and unpacked by us, not by the browser
        ("handbook.js", "text/javascript"),
        ("text.woff2", "font/woff2"),
        ("favicon.svg", "image/svg+xml"),
        ("python_stdlib.zip", "application/zip"),
    ],
)
def test_files_have_the_types_that_browsers_insist_on(shown, site, name, kind):
    (site / name).write_bytes(b"\x1f\x8b")
    with served(shown) as address, fetched(address + name) as reply:
        assert reply.headers["Content-Type"] == kind
        assert reply.headers["Content-Encoding"] is None
        assert reply.headers["Cache-Control"] == "no-cache"


def test_a_port_that_is_taken_is_named_with_the_one_that_is_used(shown, capsys):
    with served(shown, 8790) as first, served(shown, 8790) as second:
        assert first.endswith(":8790/")
        used = second.rsplit(":", 1)[1].rstrip("/")
    assert capsys.readouterr().out == (
        f"Port 8790 is taken by another program, so port {used} is used.\n"
    )


def test_a_browser_that_leaves_in_the_middle_of_a_file_is_passed_over(shown, site, capfd):
    (site / "large.bin").write_bytes(b"0" * 20_000_000)
    with served(shown) as address:
        port = int(address.rsplit(":", 1)[1].rstrip("/"))
        with socket.create_connection((local_server.HOST, port)) as browser:
            browser.sendall(b"GET /large.bin HTTP/1.1\r\nHost: here\r\n\r\n")
            assert browser.recv(1000)
            # Closed with what is still to be read: the other side is told at once.
            browser.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        assert fetched(address + "large.bin").read(1) == b"0"
    said = capfd.readouterr()
    assert "Traceback" not in said.out + said.err


def test_a_folder_without_a_page_shows_no_list_of_files_but_what_stops_the_build(shown, site):
    (site / "secret.txt").write_text("x")
    with served(shown) as address, pytest.raises(urllib.error.HTTPError) as told:
        fetched(address)
    page = told.value.read().decode()
    told.value.close()
    assert told.value.code == 404
    assert "secret" not in page
    assert "/-serve/reload.js" in page


def test_a_page_is_sent_with_the_script_that_renews_it_and_stays_as_it_is_on_disk(shown, site):
    text = "<!doctype html><html><head><title>é</title></head><body>é</body></html>"
    for name in ("index.html", "a page.html"):
        (site / name).write_text(text, "utf-8")
    with served(shown) as address:
        sent = [fetched(address + name).read().decode() for name in ("", "a%20page.html?x#y")]
        for name in ("reload.js", "reload.css"):
            assert fetched(f"{address}-serve/{name}").read()
    for page in sent:
        assert page.count('<script defer src="/-serve/reload.js"') == 1
        assert page.endswith("</head><body>é</body></html>")
    assert (site / "index.html").read_text("utf-8") == text


def test_the_version_is_another_after_each_build_and_none_while_sites_change_places(shown, site):
    facts = site / "assets/handbook/edition.js"
    facts.parent.mkdir(parents=True)
    facts.write_text("1")
    first = shown.version()
    os.utime(facts, ns=(1, 1))  # the calculators have followed
    second = shown.version()
    site.rename(site.with_name("before"))
    assert shown.version() == ""
    site.with_name("before").rename(site)
    assert len({first, second, shown.version()}) == 3


def test_how_the_build_stands_is_told_as_data(shown):
    shown.problems = '</script><img src=x>\n"quoted"'
    with served(shown) as address, fetched(f"{address}-serve/state.json") as reply:
        assert reply.headers["Content-Type"] == "application/json; charset=utf-8"
        assert json.load(reply) == {"version": "", "problems": shown.problems}
