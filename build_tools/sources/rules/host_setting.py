"""A host's settings leave pages closed: nothing from another host, nothing that runs in them."""

import re
from collections.abc import Iterator
from typing import Any

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document, KeyPath, get_path
from build_tools.sources.rule import Rule

ELSEWHERE = "This loads from another host. A page may load nothing but the handbook's own files."
IN_PAGE = "This writes a style into every page. The pages' policy lets none stand there."
AWAY = re.compile(r"^(?:[a-z]+:)?//", re.IGNORECASE)
LISTS = ("extra_css", "extra_javascript", "extra.polyfills")
FEATURES = {
    "navigation.instant": "The handbook moves between pages itself, or its calculators would stop.",
    "search.share": "Its link is a script in the page. The pages' policy lets none stand there.",
}
PLUGINS = {
    "offline": "It loads from another host. The handbook has a folder edition: 'start.py package'.",
    "search": "The handbook finds by the trade's words itself.",
    "social": "It fetches letters from another host while it builds.",
}
ICONS = ("admonition", "annotation", "tag")


def check(project: Project) -> Iterator[Problem]:
    """Look at what a host sets for the theme and for what is added to it."""
    for document in project.of_kind("site"):
        yield from _theme(document)
        yield from _features(document)
        yield from _plugins(document)
        yield from _addresses(document)


def _theme(document: Document) -> Iterator[Problem]:
    theme = get_path(document.value, "theme")
    if not isinstance(theme, dict):
        return
    if theme.get("name") != "material":
        found = f"'{theme.get('name')}' is not the theme that the pages are made for."
        yield _problem(document, ("theme", "name"), found, "write 'material'")
    if theme.get("font") != "false":
        yield _problem(document, ("theme", "font"), ELSEWHERE, "write 'font: false'")
    for name in ICONS:
        if get_path(theme, "icon", name) is not None:
            yield _problem(document, ("theme", "icon", name), IN_PAGE, "delete it")
    for name in ("favicon", "logo"):
        if AWAY.match(str(theme.get(name, ""))):
            yield _problem(document, ("theme", name), ELSEWHERE, "put the file into content/")
    if get_path(document.value, "extra", "analytics") is not None:
        yield _problem(document, ("extra", "analytics"), ELSEWHERE, "delete it")


def _features(document: Document) -> Iterator[Problem]:
    for number, name in enumerate(_listed(get_path(document.value, "theme", "features"))):
        for refused, reason in FEATURES.items():
            if name == refused or name.startswith(f"{refused}."):
                yield _problem(document, ("theme", "features", number), reason, "delete it")


def _plugins(document: Document) -> Iterator[Problem]:
    for number, given in enumerate(_listed(get_path(document.value, "plugins"))):
        name = next(iter(given), "") if isinstance(given, dict) else given
        reason = PLUGINS.get(str(name).removeprefix("material/"))
        if reason:
            yield _problem(document, ("plugins", number), reason, "delete it")


def _addresses(document: Document) -> Iterator[Problem]:
    for name in LISTS:
        key_path = tuple(name.split("."))
        for number, given in enumerate(_listed(get_path(document.value, *key_path))):
            path = given.get("path", "") if isinstance(given, dict) else given
            if AWAY.match(str(path)):
                place: KeyPath = (*key_path, number)
                yield _problem(document, place, ELSEWHERE, "put the file into content/ and name it")
    for place, text in document.texts():
        if place[0] == "markdown_extensions" and "mermaid" in text:
            yield _problem(document, place, ELSEWHERE, "delete it, and add the drawing as a file")


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []


def _problem(document: Document, key_path: KeyPath, found: str, fix: str) -> Problem:
    while key_path and get_path(document.value, *key_path) is None:
        key_path = key_path[:-1]  # what is left out has no place: that of the whole is told
    return document.problem(key_path, found, "", fix)


RULE = Rule(
    "host-setting",
    "A host's settings load nothing from elsewhere and write nothing into a page that would run.",
    check,
)
