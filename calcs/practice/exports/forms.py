"""The forms that a paper goes out in, each as the bytes of one file."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from calcs.practice import paper_marks, papers
from calcs.practice.draw import Question
from calcs.practice.exports import moodle, qti, scorm
from calcs.practice.exports.archive import zipped
from calcs.practice.exports.items import Item, items
from calcs.practice.pack import Pack


class Paper(NamedTuple):
    """A paper as it was drawn.

    Args:
        found: Its questions.
        title: Its title, with the seed and the edition.
        paper: What it was drawn by.
        pack: What it was drawn from.
    """

    found: Sequence[Question]
    title: str
    paper: Mapping[str, Any]
    pack: Pack

    def items(self, *, as_choices: bool = False) -> list[Item]:
        """What is asked."""
        return items(self.found, self.pack, as_choices=as_choices)


def drawn(paper: Mapping[str, Any], seed: str, edition: str, pack: Pack) -> Paper:
    """A paper to be exported.

    Args:
        paper: As `content/papers/` has it.
        seed: What it is drawn by.
        edition: Of the handbook.
        pack: What it is drawn from.
    """
    title = f"{paper['title']}, seed {seed}, edition {edition}"
    return Paper(papers.drawn(paper, seed, pack), title, paper, pack)


def _moodle(one: Paper) -> bytes:
    return moodle.quiz(one.items(), one.title).encode()


def _qti_2_1(one: Paper) -> bytes:
    return zipped(qti.files(one.items(), one.title, qti.QTI_2_1))


def _qti_2_1_choices(one: Paper) -> bytes:
    return zipped(qti.files(one.items(as_choices=True), one.title, qti.QTI_2_1))


def _qti_3_0(one: Paper) -> bytes:
    return zipped(qti.files(one.items(), one.title, qti.QTI_3_0))


def _scorm(one: Paper) -> bytes:
    total = sum((paper_marks.worth(each, one.pack) for each in one.found), start=0)
    needed = papers.marks_to_pass(one.paper, total)
    return zipped(scorm.files(one.items(), one.title, needed))


# By the name that stands after `--as`, with the ending of the file.
FORMS: Mapping[str, tuple[str, Callable[[Paper], bytes]]] = {
    "moodle": (".xml", _moodle),
    "qti21": (".zip", _qti_2_1),
    "qti21_choices": (".zip", _qti_2_1_choices),
    "qti30": (".zip", _qti_3_0),
    "scorm12": (".zip", _scorm),
}
