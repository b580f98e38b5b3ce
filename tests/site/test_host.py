"""What a host sets of the site: a name with anything in it, a telephone number as it was typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from build_tools.site import offline, package
from build_tools.sources import host
from build_tools.sources.rules.shape import check
from tests.project_of_texts import from_texts

NAME = 'Smith\'s <b>Handbook</b> & "Co"'  # invented
SETTINGS = """
site_name: Smith's <b>Handbook</b> & "Co"
extra:
  emergency_contact: 0111222
  good_for_days: 30
"""


@pytest.fixture
def settings(tmp_path: Path) -> host.Host:
    (tmp_path / "mkdocs.yml").write_text(SETTINGS, encoding="utf-8")
    return host.settings(tmp_path)


def test_what_is_typed_stays_text(settings: host.Host) -> None:
    """As a number in octal digits, as YAML 1.1 has it, the telephone number would be 37522."""
    assert settings == host.Host(NAME, "0111222", 30)


def test_a_name_becomes_the_name_of_a_file_on_any_system(settings: host.Host) -> None:
    assert settings.file_name == "smith_s_b_handbook_b_co"
    assert host.Host("Δοκιμή", "", 1).file_name == "handbook"


def test_a_short_name_stands_under_the_picture_and_a_long_one_does_not() -> None:
    assert host.Host("Our boilers", "", 1).short_name == "Our boilers"
    assert host.Host(NAME, "", 1).short_name == "Handbook"


def test_the_device_and_the_folder_edition_have_the_name(
    settings: host.Host,
) -> None:
    assert json.loads(json.dumps(offline._manifest(settings)))["name"] == NAME
    assert package.WORDS.format(name=NAME, day="", state="").startswith(f"{NAME}, the folder")


@pytest.mark.parametrize("days", ["0", "-1", "1.5", "1e3", "a year", "", "[1]"])
def test_a_number_of_days_that_is_none_is_refused(days: str) -> None:
    text = SETTINGS.replace("good_for_days: 30", f"good_for_days: {days}")
    (problem,) = check(from_texts({"mkdocs.yml": text}, {}, None))
    assert problem.where == "extra.good_for_days"


@pytest.mark.parametrize("name", ["", "2026", "yes", "[a]", "null"])
def test_a_name_that_is_none_is_refused(name: str) -> None:
    text = SETTINGS.replace(f"site_name: {NAME}", f"site_name: {name}")
    (problem,) = check(from_texts({"mkdocs.yml": text}, {}, None))
    assert problem.where == "site_name"
