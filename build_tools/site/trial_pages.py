"""Each page put together as the build does, but for those that were and that nothing has changed.

A page is made from its own file and from what all look things up in. Few look at other pages or at
the questions too, and those are made again when any of these is another.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields, replace
from datetime import date
from typing import Any

from build_tools.pages.content_node import ContentNode
from build_tools.pages.handbook import context, drafts
from build_tools.pages.hosts import Hosts
from build_tools.pages.load_handbook import context_of
from build_tools.pages.page_context import PageContext
from build_tools.sources.passed import Passed, hash_of, hashed
from build_tools.sources.problems import Problem, ProblemsFound
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document

TITLES = "topics"  # of the questions: all that a procedure asks of them
APART = {"ask", "problems", "questions", "bundle"}  # the bundle answers what is asked
STAMP = "edition"  # of the bundle: each edit changes it, and no page can be wrong for it


def tried(
    project: Project, passed: Passed | None = None, page_context: PageContext | None = None
) -> list[Problem]:
    """What no page can show.

    Args:
        project: All files, which keep every rule.
        passed: What passed before, which is not tried again.
        page_context: What the pages look things up from; that of the project where none is given.
    """
    page_context = replace(page_context or context_of(project), draws_charts=False)
    page_context.questions = questions = Noted(page_context.questions)
    try:
        drafts(project, page_context, _Trial(passed or Passed(), questions))
    except ProblemsFound as found:
        return found.problems
    return []


class Noted(Mapping[str, Any]):
    """The questions, which know whether more than their titles was looked at."""

    def __init__(self, questions: Mapping[str, Any]) -> None:
        self._questions = questions
        self.is_used = False

    def __getitem__(self, key: str) -> Any:
        self.is_used |= key != TITLES
        return self._questions[key]

    def __iter__(self) -> Iterator[str]:
        self.is_used = True
        return iter(self._questions)

    def __len__(self) -> int:
        self.is_used = True
        return len(self._questions)


class Others(Sequence[ContentNode]):
    """All pages, which know whether they were looked at."""

    def __init__(self, pages: Sequence[ContentNode]) -> None:
        self._pages = pages
        self.is_used = False

    def __getitem__(self, place: Any) -> Any:
        self.is_used = True
        return self._pages[place]

    def __len__(self) -> int:
        self.is_used = True
        return len(self._pages)


class _Trial:
    """Makes what a page shows, or passes over it."""

    def __init__(self, passed: Passed, questions: Noted) -> None:
        self._passed = passed
        self._questions = questions
        self._shared = self._beside = ""
        self._hosts = Hosts()

    def __call__(self, node: ContentNode, pages: Sequence[ContentNode]) -> dict[str, Any]:
        """What the page shows; nothing where it passed before."""
        page_context, problems = node.page_context, node.page_context.problems
        if not self._shared:
            self._hosts = page_context.hosts
            self._shared = hashed(_text(_shared(page_context, self._questions)))
            self._beside = hashed(
                _text(self._questions), *(hash_of(each.document) for each in pages)
            )
        # What hosts say on a page is looked up by its own path, so it is shown no more than that.
        name = node.path.removesuffix(".html")
        said = {name: self._hosts.words.get(name, ())}
        page_context.hosts = replace(self._hosts, words=said)
        own = hashed(node.path, hash_of(node.document), _text(said))
        alone = self._passed.key("page", own, self._shared)
        beside_all = self._passed.key("page beside all", alone, self._beside)
        if self._passed.holds(alone) or self._passed.holds(beside_all):
            return {}
        others = Others(pages)
        before, self._questions.is_used = len(problems), False
        values = context(node, others)
        if len(problems) == before:
            is_beside = others.is_used or self._questions.is_used
            self._passed.add(beside_all if is_beside else alone)
        return values


def _shared(page_context: PageContext, questions: Noted) -> list[Any]:
    """All that pages look things up in, apart from each other and the questions."""
    known = {each.name: getattr(page_context, each.name) for each in fields(page_context)}
    known["hosts"] = replace(page_context.hosts, words={})
    bundle = {name: each for name, each in page_context.bundle.items() if name != STAMP}
    return [{k: v for k, v in known.items() if k not in APART}, bundle, questions.get(TITLES)]


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, default=_plain)


def _plain(value: Any) -> Any:
    """What stands for a value in a hash. One of an unknown kind is an error, not left out."""
    if isinstance(value, Document):
        return hash_of(value)
    if isinstance(value, Hosts):
        return vars(value)
    if isinstance(value, Mapping):
        return dict(value)
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"{type(value).__name__} has no hash")
