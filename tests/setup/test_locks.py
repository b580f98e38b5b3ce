"""The locks: every release pinned and summed, no host, the same pint everywhere."""

import ast
import json
import re
import sys
from pathlib import Path

import pytest
from packaging.markers import Marker

from build_tools.setup.paths import ROOT
from tests.import_statements import import_statements

LOCKS = ROOT / "build_tools" / "setup" / "locks"
OURS = {"build_tools", "calcs", "tests"}
PACKAGES = {
    "qti_convert": "citolab-qti-convert",
    "yaml": "pyyaml",
    "material": "mkdocs-material",
}  # by what is imported
PYTHONS = ("3.11", "3.12", "3.13")
ENTRY = re.compile(r"^([a-z0-9-]+)==(\S+)(?: ; ([^\\]+))? \\$")
SUM = re.compile(r"^    --hash=sha256:[0-9a-f]{64}(?: \\)?$")


def lines_of(lock: str) -> list[str]:
    """What a lock says, line by line."""
    return (LOCKS / f"{lock}.txt").read_text(encoding="utf-8").splitlines()


def releases(lock: str, python: str) -> dict[str, str]:
    """Name and release of everything that a lock holds for one Python, on this system."""
    here = {"python_version": python, "python_full_version": f"{python}.9"}
    found = [match for line in lines_of(lock) if (match := ENTRY.match(line))]
    fit = [match for match in found if match[3] is None or Marker(match[3]).evaluate(here)]
    names = [match[1] for match in fit]
    assert len(names) == len(set(names)), f"{lock} has one name twice for {python}"
    return {match[1]: match[2] for match in fit}


def named(*files: str) -> set[str]:
    """Packages that some .in files name, each with its reason."""
    texts = [(LOCKS.parent / f"{file}.in").read_text(encoding="utf-8") for file in files]
    return {name for text in texts for name in re.findall(r"^[a-z0-9-]+", text, re.MULTILINE)}


def imported(*files: Path) -> set[str]:
    """Packages of others that some Python files import, wherever in them the import stands."""
    nodes = [node for file in files for node in import_statements(file)]
    names = [alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names]
    names += [str(node.module) for node in nodes if isinstance(node, ast.ImportFrom)]
    found = {name.partition(".")[0] for name in names} - sys.stdlib_module_names - OURS
    return {PACKAGES.get(name, name.lower().replace("_", "-")) for name in found}


def test_what_is_imported_is_named_as_wanted():
    """Else a lock that is made again drops what no other package happens to bring."""
    tools = ROOT / "build_tools"
    rooms = [each for each in tools.iterdir() if each.name not in {"web", "bench"}]
    every = {file for room in (*rooms, ROOT / "calcs") for file in room.rglob("*.py")}
    # What `test --overlay` asks of a browser: its set-up brings what tests need.
    with_tests = {tools / "for_hosts" / "axe.py"}
    assert with_tests < every
    ours = every - with_tests
    others = [*(tools / "bench").glob("*.py"), *(ROOT / "tests").rglob("*.py"), *with_tests]
    assert imported(*ours) - named("site") == set()
    assert imported(*others) - named("site", "test") == set()


@pytest.mark.parametrize("lock", ["site", "test", "runtime", "uv"])
def test_what_is_wanted_is_locked(lock: str):
    assert named(lock) <= releases(lock, "3.13").keys()


@pytest.mark.parametrize("lock", ["runtime", "site", "test", "uv"])
def test_every_line_is_a_pinned_release_or_its_sum(lock: str):
    odd = [line for line in lines_of(lock) if not ENTRY.match(line) and not SUM.match(line)]
    assert odd == []
    assert releases(lock, "3.13")


@pytest.mark.parametrize("python", PYTHONS)
def test_what_tests_add_agrees_with_what_the_site_has(python: str):
    site, test = releases("site", python), releases("test", python)
    both = site.keys() & test.keys()
    assert {name: site[name] for name in both} == {name: test[name] for name in both}


@pytest.mark.parametrize("python", PYTHONS)
def test_the_browser_gets_the_releases_that_the_tests_ran(python: str):
    site, browser = releases("site", python), releases("runtime", "3.13")
    assert browser["pint"] == "0.25.3"
    assert {name: site[name] for name in browser} == browser


def test_wheels_are_compiled_only_on_the_runtimes_own_python():
    compiling = [python for python in PYTHONS if "pyodide-build" in releases("site", python)]
    assert compiling == ["3.13"]


def test_the_lock_of_the_front_end_holds_sums_and_no_host():
    lock = json.loads((ROOT / "build_tools/web/package-lock.json").read_text(encoding="utf-8"))
    packages = {place: entry for place, entry in lock["packages"].items() if place}
    assert [place for place, entry in packages.items() if "resolved" in entry] == []
    assert [place for place, entry in packages.items() if "integrity" not in entry] == []
