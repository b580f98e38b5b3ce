"""The command `serve`: types of files, a port that is taken, what makes it build again."""

from __future__ import annotations

import os
import socket
import struct
import threading
import urllib.error
import urllib.request
from contextlib import contextmanager
from pathlib import Path

import pytest

from build_tools import local_server, serving


@contextmanager
def shown(folder: Path, port: int = 8765):
    server = local_server.opened(port, folder)
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
def test_files_have_the_types_that_browsers_insist_on(tmp_path, name, kind):
    (tmp_path / name).write_bytes(b"\x1f\x8b")
    with shown(tmp_path) as address, fetched(address + name) as reply:
        assert reply.headers["Content-Type"] == kind
        assert reply.headers["Content-Encoding"] is None
        assert reply.headers["Cache-Control"] == "no-cache"


def test_a_port_that_is_taken_is_passed_over(tmp_path):
    with shown(tmp_path) as first, shown(tmp_path) as second:
        assert first != second


def test_a_port_that_is_taken_is_named_with_the_one_that_is_used(tmp_path, capsys):
    with shown(tmp_path, 8790) as first, shown(tmp_path, 8790) as second:
        assert first.endswith(":8790/")
        used = second.rsplit(":", 1)[1].rstrip("/")
    assert capsys.readouterr().out == (
        f"Port 8790 is taken by another program, so port {used} is used.\n"
    )


def test_a_browser_that_leaves_in_the_middle_of_a_file_is_passed_over(tmp_path, capfd):
    (tmp_path / "large.bin").write_bytes(b"0" * 20_000_000)
    with shown(tmp_path) as address:
        port = int(address.rsplit(":", 1)[1].rstrip("/"))
        with socket.create_connection((local_server.HOST, port)) as browser:
            browser.sendall(b"GET /large.bin HTTP/1.1\r\nHost: here\r\n\r\n")
            assert browser.recv(1000)
            # Closed with what is still to be read: the other side is told at once.
            browser.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        assert fetched(address + "large.bin").read(1) == b"0"
    said = capfd.readouterr()
    assert "Traceback" not in said.out + said.err


def test_a_folder_without_a_page_shows_no_list_of_files(tmp_path):
    (tmp_path / "secret.txt").write_text("x")
    with shown(tmp_path) as address, pytest.raises(urllib.error.HTTPError) as told:
        fetched(address)
    assert told.value.code == 404
    assert "secret" not in told.value.read().decode()
    told.value.close()


@pytest.fixture
def project(tmp_path, monkeypatch):
    (tmp_path / "content").mkdir()
    (tmp_path / "content" / "_home.yaml").write_text("kind: home")
    (tmp_path / "build_tools" / "web" / "node_modules").mkdir(parents=True)
    monkeypatch.setattr(serving, "ROOT", tmp_path)
    monkeypatch.setattr(serving, "PLACE", tmp_path / ".cache" / "serve")
    return tmp_path


def test_a_change_is_seen_and_what_set_up_brings_is_not(project):
    before = serving._stamp()
    (project / "build_tools" / "web" / "node_modules" / "new.js").write_text("x")
    (project / "content" / "__pycache__").mkdir()
    assert serving._stamp() == before
    os.utime(project / "content" / "_home.yaml", ns=(1, 1))
    assert serving._stamp() != before


@pytest.mark.usefixtures("project")
def test_the_next_day_is_a_change(monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1764028800")
    before = serving._stamp()
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1764115200")
    assert serving._stamp() != before


@pytest.mark.usefixtures("project")
def test_only_a_whole_site_of_the_same_files_is_fresh():
    stamp = serving._stamp()
    assert not serving._is_fresh(stamp)
    (serving.PLACE / "site").mkdir(parents=True)
    serving._settled(1, stamp)
    assert not serving._is_fresh(stamp)
    serving._settled(0, stamp)
    assert not serving._is_fresh(stamp)
    (serving.PLACE / "site" / "index.html").write_text("x")
    assert serving._is_fresh(stamp)
