"""Hands the pages to MkDocs. The one file that knows of it: another binder needs another."""

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort
from mkdocs.structure.files import File, Files

from build_tools.pages import Handbook, search
from build_tools.pages.collect import handbook
from build_tools.problems import ProblemsFound

SEARCH_WORDS = "assets/handbook/search-index.js"


def on_files(files: Files, *, config: MkDocsConfig) -> Files:
    """Add every page of the handbook. What an author has to put right is printed plainly."""
    try:
        made = handbook(emergency_contact=config.extra.get("emergency_contact") or "")
    except ProblemsFound as found:
        raise Abort(f"\n{found}") from None
    for page in made.pages:
        files.append(File.generated(config, page.source, content=page.text))
    files.append(File.generated(config, SEARCH_WORDS, content=search.script(made)))
    config.nav = _nav(made)
    config.extra["edition"] = made.edition
    return files


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
