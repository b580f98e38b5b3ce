"""Has MkDocs bind the pages. The one file that knows of it: another binder needs another."""

import logging
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import MkDocsException
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page as BoundPage

from build_tools.pages import readings, search
from build_tools.pages.handbook import Handbook, Page
from build_tools.setup.paths import ROOT
from build_tools.site import stylesheet
from build_tools.site.policy import POLICY
from build_tools.sources.host import settings

SEARCH_WORDS = "assets/handbook/search-index.js"
READING_FACTS = "assets/handbook/reading-facts.js"
UNWANTED = ("sitemap.xml", "sitemap.xml.gz")  # they want an address, and a folder has none


def bind(made: Handbook, site: Path) -> None:
    """Write every page in its frame, and the theme's own files, into a folder.

    Raises:
        SystemExit: The theme or a setting has something that MkDocs objects to.
    """
    said, log = _Said(), logging.getLogger("mkdocs")
    log.addHandler(said)
    try:
        build(_configured(made, site))
    except MkDocsException as stopped:
        raise SystemExit("\n".join([*said.lines, stopped.format_message()])) from None
    finally:
        log.removeHandler(said)
    for name in UNWANTED:
        (site / name).unlink(missing_ok=True)


def _configured(made: Handbook, site: Path) -> MkDocsConfig:
    host = settings()  # read strictly: no telephone number is taken for a number
    config = load_config(str(ROOT / "mkdocs.yml"), site_dir=str(site), strict=True)
    config.plugins["handbook"] = _Pages(made)
    config.nav = _nav(made)
    config.site_name = host.site_name
    config.extra.update(
        emergency_contact=host.emergency_contact,
        edition=made.bundle["edition"],
        policy=POLICY,
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

    def __init__(self, made: Handbook) -> None:
        self._made = made
        self._pages: dict[str, Page] = {page.source: page for page in made.pages}

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        for name in self._pages:
            files.append(File.generated(config, name, content=""))
        words = search.script(self._made)
        files.append(File.generated(config, SEARCH_WORDS, content=words))
        facts = readings.script(self._made.reading_facts)
        files.append(File.generated(config, READING_FACTS, content=facts))
        _join_sheets(files, config)
        return files

    def on_page_markdown(self, _markdown: str, *, page: BoundPage, **_: object) -> str:
        made = self._pages[page.file.src_uri]
        page.meta = {"title": made.title, "description": made.summary, "kind": made.kind}
        return ""

    def on_page_content(self, _html: str, *, page: BoundPage, **_: object) -> str:
        return self._pages[page.file.src_uri].html.rstrip()


def _join_sheets(files: Files, config: MkDocsConfig) -> None:
    folder = Path(config.theme.dirs[0]) / "assets/css"
    for sheet in (folder / stylesheet.ENTRY, *stylesheet.sheets(folder)):
        files.remove(files.src_uris[f"assets/css/{sheet.name}"])
    entry = f"assets/css/{stylesheet.ENTRY}"
    files.append(File.generated(config, entry, content=stylesheet.joined(folder)))


def _nav(made: Handbook) -> list[object]:
    groups = [
        {
            group.title: [
                {each.title: [page.source for page in each.pages]} for each in group.sections
            ]
        }
        for group in made.groups
    ]
    return [{"Home": "index.md"}, *groups]
