"""A host's own questions and papers, by many seeds: each can be asked, and is marked as it should.

`check` draws each question once. Here each is drawn as often as the handbook's own are proved by.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from build_tools.for_hosts.packed import packed
from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project, stem_of
from calcs.practice import draw, marking, papers, put
from calcs.practice.pack import Pack

SEEDS = 200
FEWEST = 3  # choices: with two a guess is right half of the time
DRAWN = "look at what is drawn, at 'holds' and at the slips"
CHOICES = "look at the lures of each case: one that is the right answer there is left out"


def own(project: Project, kind: str) -> list[Node]:
    """A host's questions, or its papers."""
    return [node for node in project.nodes(kind) if node.document.at]


def tried(project: Project, seeds: int = SEEDS) -> list[Problem]:
    """What is wrong with them, each told by the first seed that shows it."""
    pack, written = packed(project)
    found = [
        problem
        for node in own(project, "question")
        if stem_of(node.document.file) in pack.questions  # else its page is hidden
        for problem in _question(node, pack, seeds)
    ]
    for node in own(project, "paper"):
        found += _paper(node, written[stem_of(node.document.file)], pack, seeds)
    return found


def _question(node: Node, pack: Pack, seeds: int) -> Iterator[Problem]:
    """Only the first fault of a question: the others mostly come from the same cause."""
    name = stem_of(node.document.file)
    for seed in map(str, range(1, seeds + 1)):
        try:
            question = draw.question(pack, name, seed)
            put.put(question)
        except (draw.NotDrawn, KeyError, StopIteration, ValueError, RuntimeError) as problem:
            yield node["stem"].problem(f"With seed {seed} it can't be drawn: {problem}", "", DRAWN)
            return
        for place, said, fix in _faults(node, question, pack):
            yield place.problem(f"With seed {seed} {said}.", "", fix)
            return


def _faults(node: Node, question: draw.Question, pack: Pack) -> Iterator[tuple[Node, str, str]]:
    """What does not hold of one drawn question."""
    if not marking.mark(question, put.right_answer(question), pack)["right"]:
        yield node["stem"], "its own answer is marked wrong", DRAWN
    if question.asks in put.NUMBERS:
        for slip, wrong in draw.wrong_numbers(question, pack):
            given = {"text": f"{wrong.value:.12f}", "unit": question.unit}
            told = marking.mark(question, given, pack)
            if told["right"]:
                yield node["slips"], f"the slip '{slip}' is marked right", DRAWN
            elif slip not in [each["name"] for each in told["slips"]]:
                yield node["slips"], f"the slip '{slip}' is not recognised", DRAWN
    elif question.asks not in {"verdict", "order"}:
        yield from _choices(node, question)


def _choices(node: Node, question: draw.Question) -> Iterator[tuple[Node, str, str]]:
    texts = [each["text"] for each in question.items]
    place = node["cases"] if "cases" in node else node["lures"]
    if len({*texts}) < len(texts):
        yield place, "two of its choices are the same", CHOICES
    elif len(texts) < FEWEST:
        yield place, f"it has {len(texts)} choices, and {FEWEST} are the fewest", CHOICES
    elif all(each["right"] for each in question.items):
        yield place, "all of its choices are right", CHOICES


def _paper(node: Node, written: Mapping[str, Any], pack: Pack, seeds: int) -> Iterator[Problem]:
    for seed in map(str, range(1, seeds + 1)):
        try:
            papers.picked(written["mix"], pack.questions, seed)
        except papers.NotFilled as problem:
            fix = "write more questions of that topic and kind, or ask for fewer"
            yield node["mix"].problem(f"With seed {seed} it asks for {problem}.", "", fix)
            return
