"""Has MkDocs bind the pages, in the frame of mkdocs-material. The one file that knows of either.

The theme ends on 5 May 2027. Another binder or theme needs another of this file, of
`theme_files.py`, `theme_sheets.py` and of the templates in `build_tools/theme/`.
"""

import logging
import os
from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from pathlib import Path
from typing import Any

from markupsafe import Markup
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import MkDocsException
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page as BoundPage

from build_tools.pages import readings, search
from build_tools.pages.handbook import Handbook, Page
from build_tools.pages.navigation import Branch, NavItem, menu
from build_tools.runtime import practice_program
from build_tools.setup.paths import ROOT
from build_tools.site import theme_files
from build_tools.sources.accent import sheet
from build_tools.sources.host import Host, settings

READING_FACTS = "assets/handbook/reading-facts.js"
QUESTIONS = "assets/handbook/practice-questions.js"
WRITTEN_BY = Markup('<p class="hb-host__name">Written by {}. The handbook did not check it.</p>\n')
HOST_SHEET = Path(__file__).with_name("host.css")
MARK = "assets/handbook/mark.svg"
SEARCH = Path("search/search_index.js")
# The theme asks for this file when a page opens, and the words are for whoever searches.
SEARCH_STUB = '{"config": {}, "docs": {}}\n'
UNWANTED = ("sitemap.xml", "sitemap.xml.gz")  # they want an address, and a folder has none
QUIET = (
    "NO_MKDOCS_2_WARNING"  # the theme's notice of its end: DEVELOPERS.md says what it means here
)


def bind(made: Handbook, site: Path, root: Path = ROOT, host: Host | None = None) -> None:
    """Write every page in its frame, and the theme's own files, into a folder.

    Raises:
        SystemExit: The theme or a setting has something that MkDocs objects to.
    """
    os.environ.setdefault(QUIET, "1")
    said, log = _Said(), logging.getLogger("mkdocs")
    log.addHandler(said)
    try:
        # Read strictly: no telephone number is taken for a number.
        build(_configured(made, site, root, host or settings(root)))
    except MkDocsException as stopped:
        raise SystemExit("\n".join([*said.lines, stopped.format_message()])) from None
    finally:
        log.removeHandler(said)
    for name in UNWANTED:
        (site / name).unlink(missing_ok=True)


def _configured(made: Handbook, site: Path, root: Path, host: Host) -> MkDocsConfig:
    config = load_config(str(root / "mkdocs.yml"), site_dir=str(site), strict=True)
    config.plugins["handbook"] = _Pages(made, host)
    config.nav = [*_nav(made, host), *(config.nav or []), *_of_hosts(host, made)]
    templates = theme_files.templates(config, root)
    config.theme.get_env = lambda: templates  # type: ignore[method-assign]  MkDocs asks for it
    if host.mark:
        config.theme["logo"] = MARK
    config.site_name = host.site_name
    config.extra.update(
        emergency_contact=host.emergency_contact,
        edition=made.bundle["edition"],
        stop_page=made.stop_page,
        layers=host.layers,
        policy=theme_files.policy(config),
        theme_script=theme_files.script(config),
        whole_theme=theme_files.is_whole(config),
    )
    return config


class _Said(logging.Handler):
    """Keeps what MkDocs warns of, to tell it where it stops the build."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())


class _Pages(BasePlugin):  # type: ignore[type-arg]  it has no settings to give a type of
    """Hands MkDocs the pages. They are whole HTML, and nothing of them is Markdown."""

    def __init__(self, made: Handbook, host: Host) -> None:
        self._made, self._host = made, host
        self._pages: dict[str, Page] = {page.source: page for page in made.pages}
        self._added: list[search.Added] = []  # pages of the host's own, in Markdown

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        for name in self._pages:
            files.append(File.generated(config, name, content=""))
        files.append(File.generated(config, "search/search_index.json", content=SEARCH_STUB))
        facts = readings.script(self._made.reading_facts)
        files.append(File.generated(config, READING_FACTS, content=facts))
        questions = practice_program.script(self._made.questions)
        files.append(File.generated(config, QUESTIONS, content=questions))
        if self._host.mark:
            files.append(File.generated(config, MARK, content=self._host.mark))
        for _, pages in self._host.pages:
            for name, text in pages:
                files.append(File.generated(config, name, content=text))
        for name, content in self._host.pictures:
            files.append(File.generated(config, name, content=content))
        theme_files.choose(files, config, _sheet(self._host))
        return files

    def on_page_markdown(self, markdown: str, *, page: BoundPage, **_: object) -> str:
        made = self._pages.get(page.file.src_uri)
        if made is None:
            return markdown
        page.meta = {"title": made.title, "description": made.summary}
        page.handbook = made  # type: ignore[attr-defined]  for the templates, which tell by it
        return ""

    def on_page_content(self, html: str, *, page: BoundPage, **_: object) -> str:
        made = self._pages.get(page.file.src_uri)
        if made is None:
            self._added.append(search.Added(page.url, str(page.title), html))
            return self._by(page.file.src_uri) + html
        return made.html.rstrip()

    def _by(self, source: str) -> str:
        """Who wrote a page in Markdown, where an overlay brings it."""
        for host, pages in self._host.pages:
            if source in dict(pages):
                return str(WRITTEN_BY.format(host))
        return ""

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        words = search.script(self._made, self._added)
        (Path(config.site_dir) / SEARCH).write_text(words, encoding="utf-8", newline="\n")


def _nav(made: Handbook, host: Host) -> list[Any]:
    """The menu of the handbook, without the pages that hosts have in sections of their own."""
    own = {source for _, sections in host.sections for _, pages in sections for source in pages}
    return [{"Home": "index.md"}, *_bound(menu(made.groups), {f"{each}.md" for each in own})]


def _sheet(host: Host) -> str:
    """The sheet of what hosts lay over the handbook; none where nothing is."""
    return HOST_SHEET.read_text("utf-8") + sheet(host.colours) if host.layers else ""


def _of_hosts(host: Host, made: Handbook) -> list[Any]:
    """Pages of hosts' own, under the name of who adds them: those in no section, then sections.

    A page may be hidden by a layer above.
    """
    listed: dict[str, list[Any]] = {name: [] for name, _ in (*host.pages, *host.sections)}
    parted = {f"{page}.md" for _, parts in host.sections for _, pages in parts for page in pages}
    there = {page.source for page in made.pages}
    for name, pages in host.pages:
        listed[name] += [page for page, _ in pages if page not in parted]
        there |= {page for page, _ in pages}
    for name, parts in host.sections:
        sources = ((title, [f"{page}.md" for page in pages]) for title, pages in parts)
        shown = ((title, [each for each in pages if each in there]) for title, pages in sources)
        listed[name] += [{title: pages} for title, pages in shown if pages]
    return [{name: items} for name, items in listed.items() if items]


def _bound(items: Iterable[Branch | NavItem], left_out: AbstractSet[str]) -> list[Any]:
    """Parts of the menu as the binder is told of them. One that holds nothing is no part."""
    found: list[Any] = []
    for item in items:
        if isinstance(item, NavItem):
            found += [item.source] if item.source not in left_out else []
        elif within := _bound(item.items, left_out):
            found.append({item.title: within})
    return found
