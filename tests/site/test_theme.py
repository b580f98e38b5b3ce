"""What a host sets by the theme's own means works, and a page of theirs is at home beside ours."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import material
import pytest

from build_tools.setup.paths import ROOT
from build_tools.site import theme_sheets
from tests.site import small_site
from tests.site.small_site import NAME, RULES, SETTINGS

TEMPLATES = Path(material.__file__).parent / "templates"
SHOWN = "Smith&#39;s &lt;b&gt;Handbook&lt;/b&gt; &amp; &#34;Co&#34;"
# What of the theme is ours instead: whoever pins another release looks at each of these.
OVERRIDDEN = {
    "404.html",
    "main.html",
    "partials/footer.html",
    "partials/header.html",
    "partials/javascripts/base.html",
    "partials/javascripts/palette.html",
    "partials/logo.html",
    "partials/nav.html",
    "partials/palette.html",
    "partials/search.html",
}
ADDED = {
    "partials/javascripts/way.html",
    "partials/javascripts/worker.html",
    "partials/languages/en-GB.html",
    "partials/timers.html",
}


Bound = Callable[..., Path]


@pytest.fixture
def bound(tmp_path: Path) -> Bound:
    """Binds a small project: `bound({"theme:": "theme:\\n  logo: a.svg"}, {"a.svg": "…"})`."""

    def binding(changed: dict[str, str], files: dict[str, str], more: str = "") -> Path:
        small_site.bound(tmp_path, changed, files, more, tmp_path / "site")
        return tmp_path / "site"

    return binding


@pytest.fixture(scope="module")
def dressed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site with all that a host may add without taking anything of another away."""
    root = tmp_path_factory.mktemp("dressed")
    changed = {
        "site_name: Gas commissioning handbook": f"site_name: {NAME}",
        "favicon: assets/favicon.svg": "favicon: house/icon.svg\n  logo: house/mark.svg",
        "primary: handbook": "primary: teal",
    }
    picture = "<svg xmlns='http://www.w3.org/2000/svg'/>"
    files = {"house/icon.svg": picture, "house/mark.svg": picture}
    more = "extra_css: [house.css]\nextra_javascript: [house.js]\n"
    more += "repo_url: https://code.example/gas\nrepo_name: Our copy\n"
    files |= {"house.css": "body{}", "house.js": "0"}
    small_site.bound(root, changed, files, more, root / "site")
    return root / "site"


def test_a_name_is_shown_and_never_obeyed(dressed: Path):
    site = dressed
    for name in ("index.html", "procedures/gas_rate.html", "404.html"):
        html = (site / name).read_text("utf-8")
        assert SHOWN in html.partition("</title>")[0]
        assert html.count(SHOWN) >= 2
        assert "<b>Handbook" not in html
        assert "<rate>" not in html


def test_a_logo_and_a_favicon_are_the_hosts(dressed: Path):
    html = (dressed / "procedures/gas_rate.html").read_text("utf-8")
    assert '<link rel="icon" href="../house/icon.svg">' in html
    assert '<img class="hb-logo" src="../house/mark.svg" alt=""' in html
    assert "hb-logo__tube" not in html
    assert (dressed / "house/mark.svg").is_file()


def test_a_palette_colours_the_header_and_brings_its_own_rules(dressed: Path):
    html = (dressed / "index.html").read_text("utf-8")
    assert '<body dir="ltr" data-md-color-scheme="default" data-md-color-primary="teal"' in html
    sheet = (dressed / "assets/css/handbook.css").read_text("utf-8")
    assert "[data-md-color-primary=teal]{--md-primary-fg-color:" in sheet
    assert "[data-md-color-primary=pink]" not in sheet


def test_one_display_for_all_leaves_no_list_to_choose_from(bound: Bound):
    palette = re.compile(r"  palette:\n(?: {4,}.*\n)+").search(SETTINGS)
    assert palette
    site = bound({palette[0]: "  palette:\n    scheme: slate\n    primary: handbook\n"}, {})
    html = (site / "index.html").read_text("utf-8")
    assert 'data-md-color-scheme="slate"' in html
    assert "data-hb-display" not in html
    assert "__palette" not in html


def test_words_of_the_frame_are_in_the_hosts_language(bound: Bound):
    html = (bound({"language: en-GB": "language: cy"}, {}) / "index.html").read_text("utf-8")
    assert '<html lang="cy"' in html
    assert 'placeholder="Chwilio"' in html


def test_a_sheet_and_a_script_of_the_host_come_after_ours(dressed: Path):
    html = (dressed / "procedures/gas_rate.html").read_text("utf-8")
    assert html.index("assets/css/handbook.css") < html.index('href="../house.css"')
    assert html.index("assets/handbook/handbook.js") < html.index('src="../house.js"')


def test_a_page_in_markdown_is_bound_listed_and_found(bound: Bound):
    nav = "nav:\n  - Our house:\n      - house/rules.md\n"
    site = bound({}, {"house/rules.md": RULES}, nav)
    html = (site / "house/rules.html").read_text("utf-8")
    assert '<link rel="stylesheet" href="../assets/css/markdown.css">' in html
    assert 'class="md-content__inner md-typeset"' in html
    assert '<div class="admonition warning">' in html
    assert '<td align="right">2</td>' in html
    assert 'class="footnote"' in html
    assert 'href="../procedures/gas_rate.html"' in html
    assert ' style="' not in html
    ours = (site / "procedures/gas_rate.html").read_text("utf-8")
    assert "markdown.css" not in ours
    assert "md-typeset" not in ours.partition('id="hb-main"')[2].partition("</main>")[0]
    for page, link in ((html, 'href="rules.html" aria-current="page"'), (ours, "../house/rules")):
        assert '<p class="hb-nav__group">Our house</p>' in page
        assert link in page
    words = (site / "search/search_index.js").read_text("utf-8")
    pages = json.loads(words.partition("= ")[2].rstrip(";\n"))["docs"]["pages"]
    [places] = [places for path, _, places in pages if path == "house/rules.html"]
    [(heading, text)] = [words for identity, *words in places if identity == "vans"]
    assert heading == "Vans"
    assert "ladder" in text


def test_under_a_path_every_address_is_still_from_the_page(bound: Bound):
    site = bound({"docs_dir": "site_url: https://college.example/gas/\ndocs_dir"}, {})
    html = (site / "procedures/gas_rate.html").read_text("utf-8")
    given = re.findall(r'(?:href|src)="([^"#]+)"', html.replace("\n", " "))
    away = [each for each in given if "//" in each]
    assert away == ["https://college.example/gas/procedures/gas_rate.html"]  # rel=canonical
    assert not [each for each in given if each.startswith("/")]


def test_what_goes_to_another_address_of_the_host_is_a_link_and_no_more(dressed: Path):
    """The theme would ask a code host for figures about the project."""
    html = (dressed / "index.html").read_text("utf-8")
    assert 'href="https://code.example/gas">Our copy</a>' in html
    assert 'data-md-component="source"' not in html


def test_the_theme_leaves_out_what_no_page_asks_for(bound: Bound):
    site = bound({}, {})
    kept = {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()}
    from_theme = {name for name in kept if name.startswith(("assets/javascripts", "assets/style"))}
    assert len(from_theme) == 1
    assert not {name for name in kept if name.endswith(".map")}
    assert (site / "search/search_index.json").stat().st_size < 100


def test_the_parts_of_the_theme_that_are_ours_are_these():
    folder = ROOT / "build_tools" / "theme"
    ours = {path.relative_to(folder).as_posix() for path in folder.rglob("*.html")}
    theirs = {path.relative_to(TEMPLATES).as_posix() for path in TEMPLATES.rglob("*.html")}
    assert ours & theirs == OVERRIDDEN
    assert ours - theirs == ADDED


SHEET = """html{a:b}.md-typeset p{c:d}.md-header__inner{e:f}\
@media print{.md-container{g:h}.md-nav{i:j}}\
:root{--icon:url("data:image/svg+xml;x}{")}.md-content{k:"}"}"""


def test_the_themes_sheet_is_cut_into_what_all_need_and_the_rest():
    core = 'html{a:b}@media print{.md-container{g:h}}.md-content{k:"}"}'
    assert theme_sheets.core(SHEET) == f"@layer material{{{core}}}\n"
    rest = '.md-typeset p{c:d}:root{--icon:url("data:image/svg+xml;x}{")}'
    assert theme_sheets.rest(SHEET) == f"@layer material{{{rest}}}\n"


def test_of_the_themes_colours_only_those_come_that_a_palette_names():
    sheet = "[data-md-color-primary=teal]{a:b}@media screen{[data-md-color-accent=pink]{c:d}}i{e:f}"
    found = theme_sheets.colours(sheet, {"teal"})
    assert found == "@layer material{[data-md-color-primary=teal]{a:b}i{e:f}}\n"


def test_the_sheet_for_all_pages_is_small_and_the_rest_has_what_markdown_needs():
    [file] = (TEMPLATES / "assets/stylesheets").glob("main.*.min.css")
    core, rest = (
        theme_sheets.core(file.read_text("utf-8")),
        theme_sheets.rest(file.read_text("utf-8")),
    )
    assert 4_000 < len(core) < 9_000
    for needed in (".md-container{", ".md-toggle{display:none}", ".md-dialog"):
        assert needed in core
    for needed in (
        ".md-typeset .admonition",
        ".md-typeset table",
        ".md-typeset .footnote",
        ".highlight",
    ):
        assert needed in rest
