"""The whole site as a reader gets it: every page, every link, nothing from elsewhere."""

from __future__ import annotations

import base64
import hashlib
import json
import os
import re
import struct
from collections import Counter
from functools import cache
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from build_tools.__main__ import main
from build_tools.site import build_site
from tests.inline import inline
from tests.site.parsed_page import Page, policy_of

# Bytes of a page, the shared files aside. What every page says alike belongs in a shared file.
HEAVIEST = 248_000
ADDRESSES = {"href", "src", "action", "data", "poster", "srcset"}
# Names of standards and licences, read by no browser.
NAMES = ("http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink")


def without_names(text: str) -> str:
    for name in NAMES:
        text = text.replace(name, "")
    return text


@pytest.fixture(scope="module")
def pages(site_folder) -> list[Page]:
    return [Page(path, site_folder) for path in sorted(site_folder.rglob("*.html"))]


@pytest.fixture(scope="module")
def framed(pages) -> list[Page]:
    """Every page but the one that stands in for a page that isn't there."""
    return [page for page in pages if page.name != "404.html"]


def test_every_kind_of_page_is_there(framed):
    kinds = Counter(page.name.rpartition("/")[0] for page in framed)
    assert kinds[""] == 1
    assert {"procedures", "calculators", "reference"} <= set(kinds)
    sources = Path("content").glob("[!_]*/*.yaml")
    expected = {f"{path.parent.name}/{path.stem}.html" for path in sources}
    no_pages = ("diagrams/", "questions/", "papers/")  # these stand in pages of others
    expected = {name for name in expected if not name.startswith(no_pages)}
    assert {page.name for page in framed} == expected | {"index.html"}


def test_headings_go_down_one_at_a_time(pages):
    wrong = []
    for page in pages:
        levels = [level for level, _ in page.headings]
        if levels.count(1) != 1 or levels[0] != 1:
            wrong.append(f"{page.name}: {levels.count(1)} headings of the first level")
        wrong += [f"{page.name}: h{a} then h{b}" for a, b in pairwise(levels) if b > a + 1]
        wrong += [f"{page.name}: an empty heading" for _, text in page.headings if not text.strip()]
    assert wrong == []


def test_every_page_has_its_own_title_and_language(framed):
    titles = [page.title for page in framed]
    assert [title for title, count in Counter(titles).items() if count > 1 or not title] == []
    assert {page.all("html")[0]["lang"] for page in framed} == {"en-GB"}
    described = [page.name for page in framed if 'name="description" content=""' in page.text]
    assert described == []


def test_ids_are_unique(pages):
    twice = {
        page.name: [each for each, count in Counter(page.ids).items() if count > 1]
        for page in pages
    }
    assert {name: ids for name, ids in twice.items() if ids} == {}


def test_every_drawing_has_words_or_is_passed_over(framed):
    wrong = []
    for page in framed:
        for picture in page.all("svg", "img"):
            hidden = picture.get("aria-hidden") == "true"
            named = str(picture.get("aria-labelledby") or "").split()
            if (
                not hidden
                and not (named and set(named) <= set(page.ids))
                and not picture.get("alt")
                and not (picture.get("role") == "img" and picture.get("aria-label"))
            ):
                wrong.append(f"{page.name}: {picture}")
    assert wrong == []


def reached(page: Page, address: str) -> Path:
    """The file that an address of a page is: no link of the system lies on the way."""
    return Path(os.path.normpath(page.path.parent / address))


def test_no_dead_link(pages):
    ids = {page.path: set(page.ids) for page in pages}
    is_file = cache(Path.is_file)
    dead = []
    for page in pages:
        for _, attrs in page.elements:
            for key in ADDRESSES & attrs.keys():
                address = urlsplit(str(attrs[key]))
                if address.scheme == "data":
                    continue
                target = reached(page, unquote(address.path)) if address.path else page.path
                if not is_file(target):
                    dead.append(f"{page.name}: {attrs[key]}")
                elif address.fragment and address.fragment not in ids.get(target, set()):
                    dead.append(f"{page.name}: {attrs[key]} has no such place")
    assert dead == []


def test_nothing_comes_from_another_host(site_folder, pages):
    away = [
        f"{page.name}: {value}"
        for page in pages
        for _, attrs in page.elements
        for key, value in attrs.items()
        if key in ADDRESSES and (urlsplit(str(value)).netloc or str(value).startswith("//"))
    ]
    for sheet in site_folder.rglob("*.css"):
        text = without_names(sheet.read_text("utf-8"))
        away += [
            f"{sheet.name}: {url}"
            for url in re.findall(r"url\(([^)]*)\)", text)
            if "//" in url and not url.lstrip("\"'").startswith("data:")
        ]
        away += [f"{sheet.name}: @import" for _ in re.findall(r"@import", text)]
    ours = [
        site_folder / "assets" / "handbook" / name for name in ("handbook.js", "search-worker.js")
    ]
    for script in ours:
        found = re.findall(r"https?://[^\s\"'`]+", without_names(script.read_text("utf-8")))
        away += [f"{script.name}: {url}" for url in found]
    assert away == []


def test_no_page_says_what_made_it(pages):
    said = re.compile(r"mkdocs|generator", re.IGNORECASE)
    assert [page.name for page in pages if said.search(page.text)] == []


def test_every_page_is_light(pages):
    heavy = {page.name: len(page.text.encode()) for page in pages}
    assert {name: size for name, size in heavy.items() if size > HEAVIEST} == {}


def test_every_page_is_closed_by_the_one_policy_and_needs_no_other(pages):
    [policy] = {policy_of(page.text) for page in pages}
    named = set(re.findall(r"'(sha256-[^']+)'", policy))
    found: set[str] = set()
    for page in pages:
        texts = re.findall(r"<script(?: data-[^>]*)?>(.*?)</script>", page.text, re.DOTALL)
        found |= {_sha256(text) for text in texts}
        # Each inline script is one of those that are named, and nothing else stands there.
        assert {_sha256(text) for text in texts} <= named, page.name
        assert [what.partition(": ")[2] for what in inline(page.text)] == ["<script>"] * len(texts)
        # What comes before the policy is not held by it.
        assert not re.search(r"<(script|link|style)", page.text.split("http-equiv")[0]), page.name
    assert found == named, "The policy names a script that no page has."
    assert not {"'unsafe-inline'", "'unsafe-eval'"} & set(policy.replace(";", "").split())


def _sha256(text: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"


@pytest.mark.parametrize(
    ("body", "found"),
    [
        ("<p>\n<script>go()</script>", "line 2: <script>"),
        ('<script type="module">go()</script>', "line 1: <script>"),
        ("<style>p {}</style>", "line 1: <style>"),
        ('<p style="color: red">', "line 1: <p style>"),
        ('<a onclick="go()">', "line 1: <a onclick>"),
        ('<a href=" JavaScript:go()">', "line 1: <a href>"),
    ],
)
def test_what_would_need_an_unsafe_policy_is_found(body, found):
    assert inline(body) == [found]


def test_a_file_and_data_need_no_unsafe_policy():
    assert inline('<script src="a.js"></script><script type="application/json">{}</script>') == []


def test_icons_have_the_sizes_that_devices_are_told(site_folder):
    told = json.loads((site_folder / "handbook.webmanifest").read_text("utf-8"))["icons"]
    drawn = [each for each in told if each["type"] == "image/png"]
    assert {each["sizes"] for each in drawn} == {"192x192", "512x512"}
    for each in [*drawn, {"src": "assets/icons/180.png", "sizes": "180x180"}]:
        head = (site_folder / each["src"]).read_bytes()[:24]
        width, height = struct.unpack(">II", head[16:])  # PNG, section 11.2.2
        assert f"{width}x{height}" == each["sizes"]


def test_every_page_leads_to_every_other(framed):
    names = {page.name for page in framed}
    for page in framed:
        links = {
            reached(page, urlsplit(str(a["href"])).path) for a in page.all("a") if a.get("href")
        }
        root = page.path.parents[page.name.count("/")]
        assert {path.relative_to(root).as_posix() for path in links if path != page.path} >= (
            names - {page.name}
        ), page.name


def test_a_page_is_complete_without_script(framed):
    for page in framed:
        main = page.text.partition("<main")[2].partition("</main>")[0]
        if page.name.startswith("calculators/"):
            assert re.search(r'data-hb-answer="[^"]+"><span[^>]*>[−\d]', main), page.name
            assert 'data-hb-list="working" role="list"><li' in main, page.name
        if page.name.startswith("procedures/"):
            assert 'class="hb-task"' in main, page.name
        # Only a script's own parts may be hidden.
        hidden = re.findall(r"<(\w[\w-]*)[^>]* hidden[ >]", main)
        assert not {"section", "table", "ol", "figure"} & set(hidden), page.name


def test_the_emergency_contact_is_the_hosts_to_set(framed):
    home = next(page for page in framed if page.name == "index.html")
    assert "not set by the host of this handbook" in home.text


def test_a_folder_that_no_build_made_is_left_alone(tmp_path):
    (tmp_path / "letter.txt").write_text("Keep me.")
    with pytest.raises(SystemExit, match="holds files that no build made"):
        build_site.build(tmp_path)
    assert (tmp_path / "letter.txt").read_text() == "Keep me."


def test_a_web_server_may_read_what_a_careful_builder_made(tmp_path: Path):
    made = tmp_path / "made"
    page = made / "procedures" / "purging.html"
    page.parent.mkdir(parents=True, mode=0o700)
    page.write_text("A page")
    page.chmod(0o600)
    out = tmp_path / "out"
    build_site._put(made, out, tmp_path / "before")
    found = {
        path.relative_to(out).as_posix(): path.stat().st_mode & 0o777 for path in out.rglob("*")
    }
    assert found == {"procedures": 0o755, "procedures/purging.html": 0o644}


def test_a_folder_that_cannot_be_made_is_told_in_words(tmp_path: Path, capsys):
    there = tmp_path / "a file"
    there.write_text("")
    assert main(["build", "--out", str(there / "site")]) == 1
    said = capsys.readouterr().err
    assert str(there) in said
    assert "Fix: " in said
