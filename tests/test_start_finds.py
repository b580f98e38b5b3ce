"""What set-up finds on a machine: a Python, a browser; and what it says when it finds none."""

import ast
import json
import os
import stat
import sys
from pathlib import Path

import pytest

from build_tools.setup import chromium, environment, find_python, node, system_packages, uv
from build_tools.setup.errors import SetUpStopped
from build_tools.setup.find_python import Python
from build_tools.setup.paths import Places

ROOT = Path(__file__).resolve().parent.parent
HERE = (sys.version_info.major, sys.version_info.minor)


def program(path: Path, prints: str, *, status: int = 0) -> Path:
    """A small program, for this system."""
    path.parent.mkdir(parents=True, exist_ok=True)
    if os.name == "nt":
        path = path.with_suffix(".cmd")
        path.write_text(f"@echo {prints}\n@exit {status}\n")
    else:
        path.write_text(f"#!/bin/sh\necho '{prints}'\nexit {status}\n")
        path.chmod(path.stat().st_mode | stat.S_IXUSR)
    return path


def test_a_python_is_asked_what_it_is():
    found = find_python.probe([sys.executable])
    assert found is not None
    assert found.version == HERE
    assert found.lacks == ""


def test_a_shim_that_starts_nothing_is_passed_over(tmp_path: Path):
    assert find_python.probe([str(program(tmp_path / "python3.13", "not set", status=127))]) is None
    assert find_python.probe([str(tmp_path / "nothing here")]) is None


@pytest.mark.skipif(os.name == "nt", reason="a Python of that name has to be an .exe there")
def test_pyenvs_versions_are_found_without_pyenv_on_path(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    answer = json.dumps(["/far/python", [3, 99], ""])
    program(tmp_path / "versions" / "3.99.1" / "bin" / "python", answer)
    program(tmp_path / "bin" / "python3.99", "this shim knows no such version", status=127)
    monkeypatch.setenv("PYENV_ROOT", str(tmp_path))
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))
    assert find_python.find((3, 99)) == Python("/far/python", (3, 99))


def with_only(monkeypatch: pytest.MonkeyPatch, *present: Python) -> None:
    """A machine that has these Pythons and no way to fetch another."""
    by_version = {python.version: python for python in present}
    monkeypatch.setattr(find_python, "candidates", lambda version: [version])
    monkeypatch.setattr(find_python, "probe", by_version.get)
    monkeypatch.setattr(uv, "get_python", lambda _places, _version: None)


def test_the_runtimes_own_python_comes_first(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    best = Python("/usr/bin/python3.13", (3, 13))
    with_only(monkeypatch, Python("/usr/bin/python3.12", (3, 12)), best)
    assert find_python.choose(Places(tmp_path)) == best


def test_an_older_python_will_do(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    older = Python("/usr/bin/python3.11", (3, 11))
    with_only(monkeypatch, older, Python("/usr/bin/python3.13", (3, 13), lacks="ensurepip"))
    assert find_python.choose(Places(tmp_path)) == older


def test_no_python_that_will_do_is_told_with_what_each_lacks(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
):
    with_only(monkeypatch, Python("/usr/bin/python3.12", (3, 12), lacks="ensurepip"))
    with pytest.raises(SetUpStopped, match=r"/usr/bin/python3\.12 lacks ensurepip") as stopped:
        find_python.choose(Places(tmp_path))
    assert "Fix: install Python 3.13" in str(stopped.value)


def test_uv_fetches_a_python(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    program(tmp_path / "uv", "/far/python3.13")
    monkeypatch.setenv("PATH", str(tmp_path))
    assert uv.get_python(Places(tmp_path), (3, 13)) == "/far/python3.13"


def test_what_uv_could_not_fetch_is_said_and_the_rest_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    program(tmp_path / "uv", "no server answered", status=2)
    monkeypatch.setenv("PATH", str(tmp_path))
    assert uv.get_python(Places(tmp_path), (3, 13)) is None
    assert "uv could not fetch Python 3.13: no server answered" in capsys.readouterr().out


def test_the_notice_says_what_an_older_python_costs(tmp_path: Path):
    mark = tmp_path / ".venv" / "set-up.json"
    mark.parent.mkdir()
    mark.write_text(json.dumps({"python": [3, 11]}))
    assert "no 3.13 was found" in (environment.notice(Places(tmp_path)) or "")
    mark.write_text(json.dumps({"python": [3, 13]}))
    assert environment.notice(Places(tmp_path)) is None


def test_bytecode_is_kept_and_never_beside_the_sources_of_who_wants_none_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.delenv("PYTHONPYCACHEPREFIX", raising=False)
    monkeypatch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)
    assert "PYTHONPYCACHEPREFIX" not in environment.variables(Places(tmp_path))
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    found = environment.variables(Places(tmp_path))
    assert "PYTHONDONTWRITEBYTECODE" not in found
    assert Path(found["PYTHONPYCACHEPREFIX"]).is_relative_to(tmp_path / ".cache")


def test_the_browser_that_the_variable_names_comes_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    browser = program(tmp_path / "my browser", "Chromium 1")
    monkeypatch.setenv(chromium.VARIABLE, str(browser))
    assert chromium.find() == str(browser)


def test_a_browser_that_is_named_and_does_not_start_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv(chromium.VARIABLE, str(tmp_path / "gone"))
    with pytest.raises(SetUpStopped, match=r"HB_CHROMIUM names .*gone, which does not start"):
        chromium.find()


@pytest.mark.skipif(os.name == "nt", reason="a browser has to be an .exe there")
def test_the_headless_shell_comes_before_the_whole_browser_unless_that_was_chosen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    whole = program(tmp_path / "whole" / "chromium", "Chromium 1")
    monkeypatch.delenv(chromium.VARIABLE, raising=False)
    monkeypatch.delenv(chromium.SHELL_VARIABLE, raising=False)
    monkeypatch.setattr(chromium, "CHROMIUM_NAMES", (str(whole),))
    monkeypatch.setenv("PATH", str(tmp_path))
    assert chromium.find_shell() == str(whole)
    shell = program(tmp_path / "chromium-headless-shell", "Chromium 1")
    assert chromium.find_shell() == str(shell)
    monkeypatch.setenv(chromium.VARIABLE, str(whole))
    assert chromium.find_shell() == str(whole)
    assert chromium.shell_for(str(whole)) == str(whole)
    monkeypatch.setenv(chromium.SHELL_VARIABLE, str(shell))
    assert chromium.find_shell() == str(shell)


@pytest.mark.skipif(os.name == "nt", reason="a browser has to be an .exe there")
def test_a_shell_that_does_not_start_gives_way_and_playwrights_own_is_seen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.delenv(chromium.VARIABLE, raising=False)
    monkeypatch.setenv("PATH", str(tmp_path))
    whole = tmp_path / "chromium-7" / "chrome-linux" / "chrome"
    shell = tmp_path / "chromium_headless_shell-7" / "linux" / "chrome-headless-shell"
    program(tmp_path / "chromium-headless-shell", "a library is missing", status=127)
    assert chromium.shell_for(str(whole)) == str(whole)
    monkeypatch.setattr(chromium, "_starts", lambda path: path == str(shell))
    shell.parent.mkdir(parents=True)
    shell.touch()
    assert chromium.shell_for(str(whole)) == str(shell)


def test_no_browser_and_no_way_to_get_one_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    for way in ("find", "_by_apt"):
        monkeypatch.setattr(chromium, way, lambda: None)
    for way in ("_of_playwright", "_by_playwright"):
        monkeypatch.setattr(chromium, way, lambda _places: None)
    with pytest.raises(SetUpStopped, match="or set HB_CHROMIUM to the path of one"):
        chromium.prepare(Places(tmp_path))


@pytest.mark.skipif(os.name == "nt", reason="there is no apt-get there")
def test_the_systems_programs_are_installed_beside_what_else_is_set_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    apt, go_on = program(tmp_path / "apt-get", ""), tmp_path / "go on"
    apt.write_text(f"#!/bin/sh\necho $* >> '{tmp_path}/asked'\nuntil test -e '{go_on}'; do :; done")
    knows = program(tmp_path / "apt-cache", "")
    knows.write_text("#!/bin/sh\ntest $3 != no-such-package")
    path = f"{tmp_path}{os.pathsep}{os.environ['PATH']}"
    monkeypatch.setenv("PATH", path)
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    lacking = system_packages.Program("browser of nobody", "nobodys-browser", ("nobodys-browser",))
    unknown = system_packages.Program(
        "program of Debian's", "no-such-package", ("nobodys-program",)
    )
    monkeypatch.setattr(system_packages, "ALL", (lacking, unknown))
    monkeypatch.setattr(system_packages, "DEBIANS_CHROMIUM", tmp_path / "none")
    monkeypatch.setenv(chromium.VARIABLE, "named")
    there = system_packages.begin()
    go_on.touch()  # reached while it still installs: it waits for nothing else
    there()
    said = capsys.readouterr().out
    assert "Installing nobodys-browser for tests, beside the rest ..." in said
    assert "Installing nobodys-browser for tests: done" in said
    asked = (tmp_path / "asked").read_text().splitlines()
    assert asked == ["update", "install --yes --no-install-recommends nobodys-browser"]


def test_debians_chromium_is_wanted_where_there_is_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.delenv(chromium.VARIABLE, raising=False)
    monkeypatch.setattr(system_packages, "DEBIANS_CHROMIUM", tmp_path / "debian")
    monkeypatch.setattr(system_packages, "PLAYWRIGHTS", tmp_path / "playwright")
    both = {system_packages.CHROMIUM, system_packages.SHELL}
    assert both <= set(system_packages._wanted())
    program(tmp_path / "google-chrome", "")
    assert not both & set(system_packages._wanted())
    (tmp_path / "google-chrome").unlink()
    (tmp_path / "playwright" / "chromium-1234").mkdir(parents=True)
    assert not both & set(system_packages._wanted())
    (tmp_path / "debian").mkdir()
    assert both & set(system_packages._wanted()) == {system_packages.SHELL}


def test_npm_without_a_network_says_what_could_not_be_fetched(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    web = Places(tmp_path).web
    web.mkdir(parents=True)
    wants = {"name": "tiny", "dependencies": {"esbuild": "0.28.2"}}
    package = {"": wants, "node_modules/esbuild": {"version": "0.28.2", "integrity": "sha512-AA=="}}
    lock = {"name": "tiny", "lockfileVersion": 3, "packages": package}
    (web / "package.json").write_text(json.dumps(wants))
    (web / "package-lock.json").write_text(json.dumps(lock))
    monkeypatch.setattr(environment, "python_of", lambda _places: sys.executable)
    monkeypatch.setenv("npm_config_registry", "http://127.0.0.1:9/")
    monkeypatch.setenv("npm_config_fetch_retries", "0")
    monkeypatch.setenv("npm_config_cache", str(tmp_path / "cache"))
    with pytest.raises(SetUpStopped, match="no server answered npm") as stopped:
        node.prepare(Places(tmp_path))
    assert "Front-end packages could not be fetched" in str(stopped.value)


def test_set_up_can_be_read_by_the_pythons_that_start_it():
    source = (ROOT / "build_tools" / "start.py").read_text(encoding="utf-8")
    ast.parse(source, feature_version=(3, 6))
    for file in (ROOT / "build_tools" / "commands.py", *(ROOT / "build_tools/setup").glob("*.py")):
        ast.parse(file.read_text(encoding="utf-8"), feature_version=(3, 9))


def test_an_installation_that_was_cut_off_is_finished_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    journal = tmp_path / "updates"
    journal.mkdir()
    ran: list[str] = []
    monkeypatch.setattr(system_packages, "DPKG_JOURNAL", journal)
    monkeypatch.setattr(system_packages, "run", lambda _label, command, **_: ran.append(command[0]))
    system_packages._go_on_where_it_was_cut_off({}, beside=True)
    assert ran == []
    (journal / "0001").write_text("half done")
    system_packages._go_on_where_it_was_cut_off({}, beside=True)
    assert ran == ["dpkg"]
