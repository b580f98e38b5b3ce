"""A page that a host adds in Markdown holds no script and no style, and loads no other host."""

import re
from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"

FENCE = re.compile(r"^\s*(?:```|~~~)")
CODE = re.compile(r"`[^`]*`")
WITHIN = "runs or styles from within the page"
OWN_FILE = "put it into a file of its own, and name that in extra_css or extra_javascript"
AWAY = "is loaded from another host"
IN_CONTENT = "put the file into content/ and name it there"
REFUSED = (
    (re.compile(r"<(script|style)\b", re.IGNORECASE), WITHIN, OWN_FILE),
    (re.compile(r"[\s{](style\s*=|on[a-z]+\s*=)", re.IGNORECASE), WITHIN, OWN_FILE),
    (re.compile(r"(javascript:)", re.IGNORECASE), WITHIN, OWN_FILE),
    (re.compile(r"!\[[^\]]*\]\(\s*<?((?:https?:)?//[^\s)]*)"), AWAY, IN_CONTENT),
    (
        re.compile(r"<(?:img|iframe|link|source|video|audio)\b[^>]*?[\"']((?:https?:)?//[^\"']*)"),
        AWAY,
        IN_CONTENT,
    ),
)
EXPECTED = "The pages' policy stops it."


def check(project: Project) -> Iterator[Problem]:
    """Look at each line that is no example of code."""
    for file, text in sorted(project.markdown.items()):
        for number, line in lines_of(text):
            yield from _faults(file, number, line)


def lines_of(text: str) -> Iterator[tuple[int, str]]:
    """The lines of a page with their numbers, each with blanks for what is code."""
    is_code = False
    for number, line in enumerate(text.splitlines(), start=1):
        if FENCE.match(line):
            is_code = not is_code
        elif not is_code:
            yield number, CODE.sub(lambda code: " " * len(code[0]), line)


def _faults(file: str, number: int, line: str) -> Iterator[Problem]:
    for pattern, why, mend in REFUSED:
        for found in pattern.finditer(line):
            said = f"'{found[1].strip()}' {why}."
            fix = mend if file.startswith("content/") else "delete it"
            yield Problem(file, number, found.start(1) + 1, "", said, EXPECTED, fix)
