"""A host's settings leave pages closed: nothing from another host, nothing that runs in them."""

import re
from collections.abc import Iterator

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"

ELSEWHERE = "This loads from another host. A page may load nothing but the handbook's own files."
IN_PAGE = "This writes a style into every page. The pages' policy lets none stand there."
AWAY = re.compile(r"^(?:[a-z]+:)?//", re.IGNORECASE)
LISTS = (("extra_css",), ("extra_javascript",), ("extra", "polyfills"))
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
    for site in project.nodes("site"):
        for node, found, fix in (*_theme(site["theme"]), *_features(site["theme"]), *_added(site)):
            yield node.problem(found, "", fix)


def _theme(theme: Node) -> Iterator[tuple[Node, str, str]]:
    if not theme.is_mapping:
        return
    name, font = theme["name"], theme["font"]
    if name.value != "material":
        found = f"'{name.value}' is not the theme that the pages are made for."
        yield (name if name.value else theme), found, "write 'material'"
    if font.value != "false":
        yield (font if font.value else theme), ELSEWHERE, "write 'font: false'"
    for key in ICONS:
        if key in theme["icon"]:
            yield theme["icon"][key], IN_PAGE, "delete it"
    for key in ("favicon", "logo"):
        if AWAY.match(theme[key].text):
            yield theme[key], ELSEWHERE, "put the file into content/"


def _features(theme: Node) -> Iterator[tuple[Node, str, str]]:
    for feature in theme["features"].items():
        for refused, reason in FEATURES.items():
            if f"{feature.text}.".startswith(f"{refused}."):
                yield feature, reason, "delete it"


def _added(site: Node) -> Iterator[tuple[Node, str, str]]:
    if "analytics" in site["extra"]:
        yield site["extra"]["analytics"], ELSEWHERE, "delete it"
    for plugin in site["plugins"].items():
        name = next(iter(plugin.names), plugin.text)
        if reason := PLUGINS.get(name.removeprefix("material/")):
            yield plugin, reason, "delete it"
    for key_path in LISTS:
        for file in site.each(*key_path, ...):
            if AWAY.match(file["path"].text or file.text):
                yield file, ELSEWHERE, "put the file into content/ and name it"
    for node in site["markdown_extensions"].texts():
        if "mermaid" in node.text:
            yield node, ELSEWHERE, "delete it, and add the drawing as a file"
