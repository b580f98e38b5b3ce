"""What set-up finds on a machine: a Python, a browser; and what it says when it finds none."""

import ast
import json
import os
import sys
from pathlib import Path, PurePosixPath

import pytest

from build_tools.setup import chromium, environment, find_python, paths, uv
from build_tools.setup.errors import SetUpStopped
from build_tools.setup.paths import ROOT
from tests.chromium import find_shell
from tests.setup.machine import needs_posix, no_browser, program

HERE = f"{sys.version_info.major}.{sys.version_info.minor}"


def test_a_python_is_asked_what_it_is():
    assert find_python.probe([sys.executable], HERE) == sys.executable
    assert find_python.probe([sys.executable], "3.99") is None


def test_a_shim_that_starts_nothing_is_passed_over(tmp_path: Path):
    shim = program(tmp_path / "python3.13", "not set", status=127)
    assert find_python.probe([str(shim)], "3.13") is None
    assert find_python.probe([str(tmp_path / "nothing here")], "3.13") is None


def test_a_python_that_can_make_no_environment_is_passed_over(tmp_path: Path):
    """Debian splits ensurepip off: `import ensurepip` then fails."""
    (tmp_path / "ensurepip.py").write_text("raise ImportError('split off')")
    there = f"import sys; sys.path.insert(0, {str(tmp_path)!r}); exec(sys.argv[2])"
    without = [sys.executable, "-c", there]
    assert find_python.probe(without, HERE) is None


@needs_posix
def test_pyenvs_versions_are_found_without_pyenv_on_path(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    program(tmp_path / "versions" / "3.99.1" / "bin" / "python", "3.99\n/far/python")
    program(tmp_path / "bin" / "python3.99", "this shim knows no such version", status=127)
    monkeypatch.setenv("PYENV_ROOT", str(tmp_path))
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))
    assert find_python.find("3.99") == "/far/python"


def with_only(monkeypatch: pytest.MonkeyPatch, *present: str) -> None:
    """A machine that has these Pythons and no way to fetch another."""
    found = {version: f"/usr/bin/python{version}" for version in present}
    monkeypatch.setattr(find_python, "find", found.get)
    monkeypatch.setattr(uv, "get_python", lambda _version: None)


def test_the_runtimes_own_python_comes_first(monkeypatch: pytest.MonkeyPatch):
    with_only(monkeypatch, "3.12", "3.13")
    assert find_python.choose() == ("3.13", "/usr/bin/python3.13")


def test_an_older_python_will_do(monkeypatch: pytest.MonkeyPatch):
    with_only(monkeypatch, "3.9", "3.11")
    assert find_python.choose() == ("3.11", "/usr/bin/python3.11")


def test_no_python_that_will_do_is_told_with_what_to_install(monkeypatch: pytest.MonkeyPatch):
    with_only(monkeypatch, "3.9")
    with pytest.raises(SetUpStopped, match=r"No Python 3\.13, 3\.12 or 3\.11") as stopped:
        find_python.choose()
    assert "Fix: install Python 3.13 with its venv module" in str(stopped.value)
    assert "python3-venv" in str(stopped.value)


def test_uv_fetches_a_python(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    program(tmp_path / "uv", "/far/python3.13")
    monkeypatch.setenv("PATH", str(tmp_path))
    assert uv.get_python("3.13") == "/far/python3.13"


def test_what_uv_could_not_fetch_is_said_and_the_rest_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    program(tmp_path / "uv", "no server answered", status=2)
    monkeypatch.setenv("PATH", str(tmp_path))
    assert uv.get_python("3.13") is None
    told = "Fetching Python 3.13 with uv did not finish: no server answered"
    assert told in capsys.readouterr().out


def test_the_notice_says_what_an_older_python_costs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    monkeypatch.setattr(environment, "STAMP", tmp_path / "set-up.json")
    environment.STAMP.write_text(json.dumps({"python": "3.11"}))
    environment.say_what_is_older()
    assert "no 3.13 was found" in capsys.readouterr().out
    environment.STAMP.write_text(json.dumps({"python": "3.13"}))
    environment.say_what_is_older()
    assert capsys.readouterr().out == ""


def test_bytecode_is_kept_and_never_beside_the_sources_of_who_wants_none_there(
    monkeypatch: pytest.MonkeyPatch,
):
    monkeypatch.delenv("PYTHONPYCACHEPREFIX", raising=False)
    monkeypatch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)
    assert "PYTHONPYCACHEPREFIX" not in paths.variables()
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    found = paths.variables()
    assert "PYTHONDONTWRITEBYTECODE" not in found
    assert Path(found["PYTHONPYCACHEPREFIX"]).is_relative_to(ROOT / ".cache")


def test_an_environment_on_windows_has_its_programs_elsewhere(monkeypatch: pytest.MonkeyPatch):
    venv = PurePosixPath("/a b/.venv")
    monkeypatch.setattr(os, "name", "posix")
    assert paths.python(venv) == "/a b/.venv/bin/python"
    monkeypatch.setattr(os, "name", "nt")
    assert paths.python(venv) == "/a b/.venv/Scripts/python.exe"


def test_the_browser_that_the_variable_names_comes_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    browser = program(tmp_path / "my browser", "Chromium 1")
    monkeypatch.setenv("HB_CHROMIUM", str(browser))
    assert chromium.find() == find_shell() == str(browser)


def test_a_browser_that_is_named_and_does_not_start_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("HB_CHROMIUM", str(tmp_path / "gone"))
    with pytest.raises(SetUpStopped, match=r"HB_CHROMIUM names .*gone, which does not start"):
        chromium.find()


@needs_posix
@pytest.mark.parametrize(
    ("variable", "place"),
    [
        ("PROGRAMFILES", "Google/Chrome/Application/chrome.exe"),
        ("LOCALAPPDATA", "Chromium/Application/chrome.exe"),
        ("HOME", ".cache/ms-playwright/chromium-1234/chrome-linux64/chrome"),
        ("PLAYWRIGHT_BROWSERS_PATH", "chromium-1234/chrome-linux64/chrome"),
        ("HOME", "Library/Caches/ms-playwright/chromium-1/chrome-mac/Chrome.app/Contents/MacOS/C"),
    ],
)
def test_a_browser_is_found_in_the_usual_places_of_each_system(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, variable: str, place: str
):
    no_browser(tmp_path / "no browser", monkeypatch)
    assert chromium.find() is None
    monkeypatch.setenv(variable, str(tmp_path / "a folder"))
    there = program(tmp_path / "a folder" / place, "Chromium 1")
    assert chromium.find() == str(there)


@needs_posix
def test_the_headless_shell_comes_before_the_whole_browser_if_it_starts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    no_browser(tmp_path, monkeypatch)
    whole = program(tmp_path / "chromium", "Chromium 1")
    assert find_shell() == str(whole)
    shell = program(tmp_path / "chromium-headless-shell", "a library is missing", status=127)
    assert find_shell() == str(whole)
    program(shell, "Chromium 1")
    assert find_shell() == str(shell)
    assert chromium.find() == str(whole)


def test_no_browser_and_no_way_to_get_one_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    no_browser(tmp_path, monkeypatch)
    monkeypatch.setattr(paths, "VENV", tmp_path / "none")
    python = program(Path(paths.python()), "no server answered", status=1)
    monkeypatch.setattr(paths, "python", lambda: str(python))
    with pytest.raises(SetUpStopped, match="or set HB_CHROMIUM to the path of one"):
        chromium.prepare()


def test_set_up_can_be_read_by_the_pythons_that_start_it():
    source = (ROOT / "build_tools" / "start.py").read_text(encoding="utf-8")
    ast.parse(source, feature_version=(3, 6))
    for file in (ROOT / "build_tools" / "commands.py", *(ROOT / "build_tools/setup").glob("*.py")):
        ast.parse(file.read_text(encoding="utf-8"), feature_version=(3, 9))
