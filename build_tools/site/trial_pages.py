"""Each page put together as the build does, but for those that were and that nothing has changed.

A page is made from its own file and from what all look things up in. Few look at other pages or at
the questions too, and those are made again when any of these is another.
"""

import json
from collections.abc import Mapping, Sequence
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
from build_tools.sources.watched import Watch, Watched
from calcs.bridge import Bridge
from calcs.engine.reference import Reference

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
    page_context = page_context or context_of(project, asking=Asked)
    page_context = replace(page_context, draws_charts=False)
    page_context.questions = questions = Noted(page_context.questions)
    trial = _Trial(passed or Passed(), questions, page_context)
    try:
        drafts(project, page_context, trial)
    except ProblemsFound as found:
        return found.problems
    return []


class Noted(Watched):
    """The questions, which know whether more than their titles was looked at."""

    def __init__(self, questions: Mapping[str, Any]) -> None:
        super().__init__(questions, self._note)
        self.is_used = False

    def _note(self, key: str) -> None:
        self.is_used |= key != TITLES


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


class Asked:
    """Asks the calculators. What a reply was worked out from counts as seen by all who ask for it.

    Args:
        bundle: The figures and words.
    """

    def __init__(self, bundle: Mapping[str, Any]) -> None:
        self._packed = json.dumps(bundle, ensure_ascii=False)
        self._bridge = Bridge(self._packed)
        self._watch, self._watched = Watch(bundle), bundle
        self._known: dict[str, tuple[str, set[str]]] = {}

    def note_in(self, watch: Watch) -> None:
        """Tell this one of what is looked at."""
        self._watch, self._watched = watch, watch.over(json.loads(self._packed))

    def __call__(self, request: dict[str, Any]) -> dict[str, Any]:
        """The reply, through the JSON text that the browser has, each worked out once."""
        text = json.dumps(request)
        if text not in self._known:
            before = {*self._watch.seen}
            self._watch.seen.clear()
            self._bridge.reference = Reference(self._watched)  # which remembers nothing
            reply = self._bridge.answer(text)
            self._known[text] = reply, {*self._watch.seen}
            self._watch.seen.update(before)
        reply, seen = self._known[text]
        self._watch.seen.update(seen)
        found: dict[str, Any] = json.loads(reply)
        return found


class _Trial:
    """Makes what a page shows, or passes over it."""

    def __init__(self, passed: Passed, questions: Noted, page_context: PageContext) -> None:
        self._passed = passed
        self._questions = questions
        self._shared = self._beside = ""
        self._watch = watch = Watch(page_context.bundle, page_context.hosts.limits)
        self._shown = _shared(page_context, questions, watch)
        page_context.bundle = watch.over(page_context.bundle)
        self._hosts = replace(page_context.hosts, limits=watch.over_limits())
        if isinstance(page_context.ask, Asked):
            page_context.ask.note_in(watch)

    def __call__(self, node: ContentNode, pages: Sequence[ContentNode]) -> dict[str, Any]:
        """What the page shows; nothing where it passed before."""
        page_context, problems = node.page_context, node.page_context.problems
        if not self._shared:
            self._shared = hashed(_text([*self._shown, page_context.pages]))
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
        if any(self._passed.holds_of(key, self._watch.said) for key in (alone, beside_all)):
            return {}
        others = Others(pages)
        before, self._questions.is_used = len(problems), False
        self._watch.seen.clear()
        values = context(node, others)
        if len(problems) == before:
            is_beside = others.is_used or self._questions.is_used
            # The questions ask the calculators in ways of their own, which are not watched.
            seen = self._watch.every if self._questions.is_used else self._watch.seen
            self._passed.add_of(beside_all if is_beside else alone, seen, self._watch.said)
        return values


def _shared(page_context: PageContext, questions: Noted, watch: Watch) -> list[Any]:
    """All that pages look things up in, but each other, the questions and what is watched."""
    known = {each.name: getattr(page_context, each.name) for each in fields(page_context)}
    known["hosts"] = replace(page_context.hosts, words={}, limits={})
    bundle = {name: each for name, each in watch.beside().items() if name != STAMP}
    shown = {k: v for k, v in known.items() if k not in APART}
    return [shown, bundle, questions.get(TITLES), page_context.example_day]


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
