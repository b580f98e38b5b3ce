"""What set-up installs on the system or fetches, and what it says where it can't."""

import json
import os
import sys
from pathlib import Path

import pytest

from build_tools.setup import fetch_errors, node, paths, programs
from build_tools.setup.errors import SetUpStopped
from tests.setup.machine import needs_posix, no_browser, program


@needs_posix
def test_the_systems_programs_are_named_and_then_installed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    apt = program(tmp_path / "apt-get", "")
    apt.write_text(f"#!/bin/sh\necho $* >> '{tmp_path}/asked'\n")
    knows = program(tmp_path / "apt-cache", "")
    knows.write_text("#!/bin/sh\ntest $2 != no-such-package")
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}{os.environ['PATH']}")
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    wants = {"nobodys-browser", "no-such-package"}  # Debian and Ubuntu differ in what they have
    monkeypatch.setattr(programs, "missing", lambda _needs: wants)
    monkeypatch.setattr(programs, "DPKG_JOURNAL", tmp_path / "none")
    programs.prepare(("programs",))
    told = capsys.readouterr().out
    named = "The tests need no-such-package, nobodys-browser: apt-get installs them on this system."
    assert told.index(named) < told.index("Reading the system's list")
    assert "Installing nobodys-browser: done" in told
    asked = (tmp_path / "asked").read_text().splitlines()
    assert asked == ["update", "install --yes --no-install-recommends nobodys-browser"]


@needs_posix
def test_nothing_is_installed_on_the_system_of_who_may_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    program(tmp_path / "apt-get", "")
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(programs, "missing", lambda _needs: {"nobodys-browser"})
    monkeypatch.setattr(programs, "run", lambda *_: pytest.fail("it ran a program"))
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    programs.prepare(("programs",))


@needs_posix
def test_an_installation_that_was_cut_off_is_finished_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    ran: list[str] = []
    program(tmp_path / "apt-get", "")
    program(tmp_path / "apt-cache", "")
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    monkeypatch.setattr(programs, "missing", lambda _needs: {"nobodys-browser"})
    monkeypatch.setattr(programs, "DPKG_JOURNAL", tmp_path / "updates")
    monkeypatch.setattr(
        programs, "run", lambda _label, command, _env: ran.append(Path(command[0]).name)
    )
    programs.prepare(("programs",))
    assert ran == ["apt-get", "apt-get"]
    (tmp_path / "updates").mkdir()
    (tmp_path / "updates" / "0001").write_text("half done")
    programs.prepare(("programs",))
    assert ran[2:] == ["dpkg", "apt-get", "apt-get"]


@needs_posix
def test_debians_chromium_is_wanted_where_there_is_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    no_browser(tmp_path, monkeypatch)
    both = {"chromium", "chromium-headless-shell"}
    everything = programs.Program("program of all", "all", ("nobodys-program",))
    monkeypatch.setattr(programs, "ALL", (everything,))
    monkeypatch.setattr(programs, "DEBIANS_CHROMIUM", tmp_path / "debian")
    assert programs.missing(("chromium", "programs")) == {"all", *both}
    assert programs.missing(("chromium",)) == {"chromium"}
    chrome = program(tmp_path / "google-chrome", "")
    assert programs.missing(("chromium", "programs")) == {"all"}
    (tmp_path / "debian").mkdir()
    assert programs.missing(("chromium", "programs")) == {"all", "chromium-headless-shell"}
    program(chrome, "a library is missing", status=127)
    assert programs.missing(("chromium",)) == {"chromium"}


def test_npm_without_a_network_says_what_could_not_be_fetched(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    wants = {"name": "tiny", "dependencies": {"esbuild": "0.28.2"}}
    package = {"": wants, "node_modules/esbuild": {"version": "0.28.2", "integrity": "sha512-AA=="}}
    lock = {"name": "tiny", "lockfileVersion": 3, "packages": package}
    (tmp_path / "package.json").write_text(json.dumps(wants))
    (tmp_path / "package-lock.json").write_text(json.dumps(lock))
    monkeypatch.setattr(paths, "WEB", tmp_path)
    monkeypatch.setattr(paths, "python", lambda: sys.executable)
    monkeypatch.setattr(node, "STAMP", tmp_path / "stamp")
    monkeypatch.setattr(node, "FILES", ())
    monkeypatch.setenv("npm_config_registry", "http://127.0.0.1:9/")
    monkeypatch.setenv("npm_config_fetch_retries", "0")
    monkeypatch.setenv("npm_config_cache", str(tmp_path / "cache"))
    with pytest.raises(SetUpStopped, match="no server answered npm") as stopped:
        node.prepare()
    assert "Front-end packages could not be fetched" in str(stopped.value)
    assert not node.STAMP.exists()


@pytest.mark.parametrize(
    ("printed", "told"),
    [
        ("SSLError: certificate verify failed", "does not trust the server's certificate"),
        ("ERROR: No matching distribution found for tiny", "does not offer one"),
        ("OSError: [Errno 28] No space left on device", "the disk is full"),
        ("npm error code EINTEGRITY", "one is not the file that the lock names"),
        ("ERROR: of another kind", "Packages could not be installed."),
    ],
)
def test_why_something_was_not_fetched_is_told_with_the_line_that_shows_it(printed: str, told: str):
    stopped = str(fetch_errors.explain("Packages", "pip", ["Collecting tiny", printed, "bye"]))
    assert told in stopped
    assert "It got as far as tiny." in stopped
    assert f"\n    {printed}\nFix: " in stopped
