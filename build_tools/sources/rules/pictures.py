"""A host's pages in Markdown show whole pictures of their own, and say in words what each shows."""

import re
from collections.abc import Iterator

from build_tools.sources import picture
from build_tools.sources.overlays import Overlay
from build_tools.sources.problems import Problem, rename_fix
from build_tools.sources.project import Project
from build_tools.sources.rules.markdown_page import lines_of

LOOKS_AT = "Markdown"

SHOWN = re.compile(r"!\[(?P<words>[^\]]*)\]\(\s*<?(?P<name>[^)\s>]+)")
OF_HTML = re.compile(r"<img\b", re.IGNORECASE)
ELSEWHERE = "//"  # of which the rule on pages in Markdown tells
READ_OUT = "Who can't see it has it read out."


def check(project: Project) -> Iterator[Problem]:
    """Look at each picture, and at where pages show one."""
    seen: dict[str, str] = {}
    for overlay in project.overlays:
        for name in (*overlay.markdown, *overlay.pictures):
            if (other := seen.setdefault(name, overlay.name)) != overlay.name:
                found = f"{other} has a file of this name, and one site holds both."
                yield _of(overlay, name, found, "", "give this file another name")
        for name, content in overlay.pictures.items():
            for told in picture.faults(content, name):
                yield _of(overlay, name, *told)
        for name, text in overlay.markdown.items():
            for number, line in lines_of(text):
                yield from _shown(f"{overlay.name}/pages/{name}", number, line, overlay)


def _of(overlay: Overlay, name: str, found: str, expected: str, fix: str) -> Problem:
    return Problem(f"{overlay.name}/pages/{name}", 1, 1, "", found, expected, fix)


def _shown(file: str, number: int, line: str, overlay: Overlay) -> Iterator[Problem]:
    for found in OF_HTML.finditer(line):
        fix = "write ![what it shows](name.png)"
        yield Problem(file, number, found.start() + 1, "", "Here is <img>.", READ_OUT, fix)
    for found in SHOWN.finditer(line):
        name, column = found["name"], found.start("name") + 1
        if ELSEWHERE in name:
            continue
        if name not in overlay.pictures:
            said = f"There is no picture '{name}' beside the page."
            fix = rename_fix(name, overlay.pictures, f"put {name} into its folder, as PNG or JPEG")
            yield Problem(file, number, column, "", said, "", fix)
        elif not found["words"].strip():
            said = f"Nothing says what '{name}' shows."
            fix = "write it between the square brackets"
            yield Problem(file, number, column, "", said, READ_OUT, fix)
