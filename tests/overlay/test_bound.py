"""An overlay in the frame of the site: its name, mark, colours and pages in Markdown."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from build_tools.setup.paths import ROOT
from build_tools.site.mkdocs_binding import _nav, _of_hosts, bind
from build_tools.sources import overlays
from build_tools.sources.host import settings
from build_tools.sources.picture import cleaned
from tests.site.small_site import SETTINGS, made

NORTHMOOR = Path(__file__).parent / "northmoor"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two pages of ours, bound with the college's layer over them."""
    root, out = tmp_path_factory.mktemp("project"), tmp_path_factory.mktemp("site")
    text = SETTINGS.replace("build_tools/theme", str(ROOT / "build_tools/theme"))
    (root / "mkdocs.yml").write_text(text, encoding="utf-8")
    (root / "content").mkdir()
    bind(made(), out, root, settings(root, overlays.read([NORTHMOOR])))
    return out


def test_name_mark_and_contact_stand_on_each_page(site: Path) -> None:
    page = (site / "procedures" / "gas_rate.html").read_text("utf-8")
    assert "<title>Gas &lt;rate&gt; · Northmoor College</title>" in page
    assert '<img class="hb-logo" src="../assets/handbook/mark.svg"' in page
    assert "Ask your tutor for the number on the wall of the workshop." in page
    assert "with the layer of Northmoor College" in page
    assert "It certifies nothing." in page


def test_a_page_in_markdown_is_in_the_menu_and_says_whose_it_is(site: Path) -> None:
    page = (site / "bays.html").read_text("utf-8")
    assert "Written by Northmoor College. The handbook did not check it." in page
    assert 'href="../bays.html"' in (site / "procedures" / "gas_rate.html").read_text("utf-8")


def test_a_page_stands_in_its_own_part_of_the_menu_and_shows_its_picture(site: Path) -> None:
    page = (site / "bays.html").read_text("utf-8")
    menu = page.partition('id="hb-nav"')[2].partition("</nav>")[0]
    at = [menu.find(each) for each in (">Northmoor College<", ">The workshop<", ">The bays<")]
    assert at == sorted(at)
    assert -1 not in at
    shown = re.search(r'<img alt="Bays 1 to 6[^"]*" src="bays.png"', page)
    assert shown is not None
    assert (site / "bays.png").read_bytes() == cleaned((NORTHMOOR / "pages/bays.png").read_bytes())


def test_the_menu_has_a_host_s_pages_once_and_none_that_is_hidden() -> None:
    pages = (("Body", (("a.md", ""), ("b.md", ""))), ("College", (("c.md", ""),)))
    parts = (("College", (("Ours", ("c", "procedures/gas_rate", "gone")), ("Empty", ("gone",)))),)
    host = replace(settings(), pages=pages, sections=parts)
    source = "procedures/gas_rate.md"
    assert source in str(_nav(made(), settings()))
    assert source not in str(_nav(made(), host))
    assert _of_hosts(host, made()) == [
        {"Body": ["a.md", "b.md"]},
        {"College": [{"Ours": ["c.md", source]}]},
    ]


def test_its_colours_come_last_in_the_sheet_and_sunlight_keeps_its_own(site: Path) -> None:
    sheet = (site / "assets" / "css" / "handbook.css").read_text("utf-8")
    last = sheet.rstrip().rpartition("body{")[2]
    assert (
        "--hb-accent:var(--hb-light,#0b5d57) var(--hb-sun,#002f6c) var(--hb-dark,#7fd4c9);" in last
    )
    assert ".hb-host {" in sheet
