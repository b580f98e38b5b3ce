"""Advice on what hosts lay over the handbook: nothing is refused for it, and it is worth a look."""

import re
from collections.abc import Iterator
from dataclasses import replace

from build_tools.sources.days import in_force
from build_tools.sources.filled import invented_figures
from build_tools.sources.node import Node
from build_tools.sources.problems import ADVICE, Problem
from build_tools.sources.project import Project, kind_of
from build_tools.sources.reading_ease import ease, words_of
from build_tools.sources.rules.source_cited import PERSON

PLAIN = 60  # in Flesch's reading ease: plain English begins here
ENOUGH = 40  # words: of fewer the measure says little
NO_WORDS = re.compile(  # of Markdown: tables, where links lead, code, and its marks
    r"^[ \t]*\|.*$|!?\[([^\]]*)\]\([^)]*\)|`[^`]*`|[#>*_|]+|^[ \t]*(?:\d+\.|[-*+])[ \t]+",
    re.MULTILINE,
)
BLOCK_ENDS = re.compile(r"\n\s*\n|\n(?=[ \t]*(?:\d+\.|[-*+#])[ \t#])")
END = re.compile(r"[.!?:]$")
TO_BE_READ = {"title", "summary", "body", "points", "rows", "terms"}  # keys of a reference page
HAND_OUT = "write the figure of your own copy: 'package' refuses this one"


def advice_on(project: Project) -> list[Problem]:
    """All advice on a project, whatever the rules find in it."""
    if not project.overlays:
        return []
    asked = {
        "outcome-served": _unserved,
        "outcome-names-nobody": _named,
        "figure-invented": _invented,
        "limit-in-force": _lapsed,
        "page-plain": _hard,
    }
    return [
        replace(each, severity=ADVICE, rule=name)
        for name, find in asked.items()
        for each in find(project)
    ]


def _unserved(project: Project) -> Iterator[Problem]:
    for outcome in project.each("outcomes", "outcomes", ...):
        if not outcome["served_by"].items():
            found = f"Nothing serves the outcome '{outcome['code'].text}'."
            fix = "name a page, a step, a question or a paper under 'served_by', or write one"
            yield outcome["code"].problem(found, "", fix)


def _named(project: Project) -> Iterator[Problem]:
    for outcome in project.each("outcomes", "outcomes", ...):
        for node in (outcome["code"], outcome["says"]):
            if name := PERSON.search(node.text):
                found = f"'{name[0]}' looks like a person's name."
                yield node.problem(found, "All who read the handbook see it.", "leave it out")


def _invented(project: Project) -> Iterator[Problem]:
    return (replace(each, fix=HAND_OUT) for each in invented_figures(project))


def _lapsed(project: Project) -> Iterator[Problem]:
    for limit in project.each("host_limits", ...):
        values = [each.value for each in limit["values"].items() if _is_dated(each)]
        if values and in_force(values, project.day) is None:
            found = f"'{limit.key}' has nothing in force on {project.day.isoformat()}."
            yield limit.problem(found, "", "add a value that holds today, or delete it", key=True)


def _is_dated(value: Node) -> bool:
    return bool(value["from"].text) and isinstance(value["until"].value, str | None)


def _hard(project: Project) -> Iterator[Problem]:
    for file, text in sorted(project.markdown.items()):
        if not file.startswith("content/"):
            yield from _score(Problem(file, 1, 1, "", "", "", ""), _plain(text))
    for page in project.nodes("reference"):
        if page.document.at and kind_of(page.document.place) == "reference":
            words = " ".join(_sentence(each.text) for each in _read(page))
            yield from _score(page.problem("", "", ""), words)


def _read(page: Node) -> Iterator[Node]:
    return (each for each in page.texts() if TO_BE_READ.intersection(each.key_path))


def _sentence(text: str) -> str:
    return text if END.search(text) else f"{text}."


def _plain(text: str) -> str:
    """The words of a page in Markdown, a sentence for each line that ends without a full stop."""
    lines = [NO_WORDS.sub(r" \1 ", block).strip() for block in BLOCK_ENDS.split(text)]
    return " ".join(_sentence(line) for line in lines if line)


def _score(place: Problem, words: str) -> Iterator[Problem]:
    score = ease(words)
    if len(words_of(words)) >= ENOUGH and score < PLAIN:
        found = f"This page is hard to read: {score:.0f} in Flesch's reading ease."
        expected = f"Plain English has {PLAIN} or more."
        fix = "shorten its longest sentences, and take a plainer word for each long one"
        yield replace(place, found=found, expected=expected, fix=fix)
