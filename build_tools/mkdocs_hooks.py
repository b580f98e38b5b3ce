"""Hands the pages to MkDocs. The one file that knows of it: another binder needs another."""

import gc
from pathlib import Path
from typing import TYPE_CHECKING

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page

from build_tools import bundle, csp, style
from build_tools.host import settings
from build_tools.problems import ProblemsFound
from build_tools.project import load
from build_tools.remembered import remembering
from build_tools.rules import check_all

if TYPE_CHECKING:
    from build_tools.pages import Handbook

SEARCH_WORDS = "assets/handbook/search-index.js"
_bodies: dict[str, str] = {}  # of pages that are being bound, by the name of their file


def on_startup(**_: object) -> None:
    """A build lives for seconds: looking for what it could forget is a twentieth of its time."""
    gc.disable()


def on_files(files: Files, *, config: MkDocsConfig) -> Files:
    """Add every page of the handbook. What an author has to put right is printed plainly."""
    try:
        made = _handbook()
    except ProblemsFound as found:
        raise Abort(f"\n{found}") from None
    from build_tools.pages import search  # noqa: PLC0415  it imports calcs, as `_handbook` does

    for page in made.pages:
        files.append(File.generated(config, page.source, content=page.text))
    with remembering(search.in_piece, search.__file__) as look:
        words = search.script(made, look)
    files.append(File.generated(config, SEARCH_WORDS, content=words))
    _join_sheets(files, config)
    config.nav = _nav(made)
    host = settings()  # read strictly: no telephone number is taken for a number
    config.site_name = host.site_name
    config.extra["emergency_contact"] = host.emergency_contact
    config.extra["policy"] = csp.POLICY
    config.extra["edition"] = made.bundle["edition"]
    bundle.write_made(made.bundle)
    return files


def _handbook() -> "Handbook":
    """All pages. While the engine of calcs can't be imported, what is wrong there is told."""
    try:
        from build_tools.pages.collect import handbook  # noqa: PLC0415
    except Exception:
        if problems := check_all(load()):
            raise ProblemsFound(problems) from None
        raise
    return handbook()


def on_page_markdown(markdown: str, *, page: Page, **_: object) -> str:
    """Pages are whole HTML: read as Markdown they would cost a third of the build."""
    _bodies[page.file.src_uri] = markdown
    return ""


def on_page_content(_html: str, *, page: Page, **_: object) -> str:
    """The page as it was made."""
    return _bodies.pop(page.file.src_uri).rstrip()


def _join_sheets(files: Files, config: MkDocsConfig) -> None:
    folder = Path(config.theme.dirs[0]) / "assets/css"
    for sheet in (folder / style.ENTRY, *style.sheets(folder)):
        files.remove(files.src_uris[f"assets/css/{sheet.name}"])
    entry = f"assets/css/{style.ENTRY}"
    files.append(File.generated(config, entry, content=style.joined(folder)))


def _nav(made: "Handbook") -> list[object]:
    groups = [
        {
            group.title: [
                {each.title: [page.source for page in each.pages]} for each in group.sections
            ]
        }
        for group in made.groups
    ]
    return [{"Home": "index.md"}, *groups]
