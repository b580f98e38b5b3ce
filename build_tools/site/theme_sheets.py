"""The sheet of mkdocs-material, cut in two: what every page needs, and what only some need.

The theme brings one sheet of 138 kB. Most of it dresses Markdown, which few pages of a handbook
are. How its header, drawer, contents and search box look is ours to say, so those rules go.
"""

import re
from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet

LAYER = "material"  # what stands in no layer wins over it, so no rule of ours has to shout
_OUR_LOOK = re.compile(r"\.md-(?:header|search|nav|sidebar|footer|overlay|skip|logo)(?![a-z])")
_EVERYWHERE = re.compile(
    r"^(?:html|body|\*|:root|\[data-md-color|@page|@charset|"
    r"(?:[a-z]+|:after|:before|,)+$|"
    r".*\.(?:md-(?:toggle|option|grid|container|main|content|ellipsis|icon|dialog)(?![a-z])))"
)
_SOME = re.compile(r"\.(?:md-(?:typeset|feedback|source|content--post)|highlight|tabbed)|mermaid")
_PICTURE = "data:image"  # a symbol of what stands in Markdown
_COLOUR = re.compile(r"\[data-md-color-(?:primary|accent)=([\w-]+)\]")


def core(sheet: str) -> str:
    """The rules that a page of ours needs, in their layer."""
    return _layered(_picked(_rules(sheet), for_all=True))


def rest(sheet: str) -> str:
    """The other rules, for pages in Markdown and for features that a host turns on."""
    return _layered(_picked(_rules(sheet), for_all=False))


def colours(sheet: str, used: AbstractSet[str]) -> str:
    """Of the sheet of colours what a site's palette names, in its layer."""
    return _layered(_coloured(_rules(sheet), used))


def _coloured(rules: Iterable[str], used: AbstractSet[str]) -> Iterator[str]:
    for rule in rules:
        head = _head(rule)
        if head.startswith("@media"):
            inner = "".join(_coloured(_rules(rule[len(head) + 1 : -1]), used))
            if inner:
                yield f"{head}{{{inner}}}"
        elif not _OUR_LOOK.search(head) and used.issuperset(_COLOUR.findall(head)):
            yield rule


def _layered(rules: Iterable[str]) -> str:
    return f"@layer {LAYER}{{{''.join(rules)}}}\n"


def _picked(rules: Iterable[str], *, for_all: bool) -> Iterator[str]:
    for rule in rules:
        head = _head(rule)
        if head.startswith(("@media", "@supports")):
            inner = "".join(_picked(_rules(rule[len(head) + 1 : -1]), for_all=for_all))
            if inner:
                yield f"{head}{{{inner}}}"
        elif head.startswith("@charset") or _OUR_LOOK.search(head):
            continue
        elif _is_for_all(head, rule) == for_all:
            yield rule


def _is_for_all(head: str, rule: str) -> bool:
    if _PICTURE in rule or _SOME.search(rule):
        return False
    return _EVERYWHERE.match(head) is not None


def _head(rule: str) -> str:
    return rule.partition("{")[0]


def _rules(sheet: str) -> Iterator[str]:
    """The rules of a sheet at its outermost level: a brace in a text opens none."""
    depth, start, quote, escaped = 0, 0, "", False
    for at, letter in enumerate(sheet):
        if quote:
            if escaped or letter == "\\":
                escaped = not escaped
            elif letter == quote:
                quote = ""
            continue
        if letter in "\"'":
            quote = letter
        depth += (letter == "{") - (letter == "}")
        if depth == 0 and letter in "};":
            yield sheet[start : at + 1]
            start = at + 1
