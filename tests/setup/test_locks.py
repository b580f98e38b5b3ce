"""The locks: every release pinned and summed, no host, the same pint everywhere."""

import json
import re

import pytest
from packaging.markers import Marker

from build_tools.setup.paths import ROOT

LOCKS = ROOT / "build_tools" / "setup" / "locks"
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


@pytest.mark.parametrize("lock", ["browser", "site", "test", "uv"])
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
    site, browser = releases("site", python), releases("browser", "3.13")
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
