"""Every part of a paper has as many questions as it asks for, of the kinds that it names."""

from collections.abc import Iterator
from typing import Any

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem, rename_fix
from build_tools.sources.project import Project, stem_of

FEWER = "ask for fewer, name another topic, or write the questions"
ONCE = "A question can stand in a paper once."


def check(project: Project) -> Iterator[Problem]:
    """Count the questions that each part may take."""
    if not project.are_whole("question"):
        return
    questions = {stem_of(each.file): each.value for each in project.of_kind("question")}
    for paper in project.nodes("paper"):
        taken: set[str] = set()
        for part in paper["mix"].items():
            yield from _topics(part, taken)
            yield from _part(part, [*_fitting(part, questions)])


def _topics(part: Node, taken: set[str]) -> Iterator[Problem]:
    for topic in part["topics"].items():
        if topic.text in taken:
            found = f"'{topic.text}' stands in this paper twice."
            yield topic.problem(found, ONCE, "take it out here, or put the parts together")
        taken.add(topic.text)


def _fitting(part: Node, questions: dict[str, Any]) -> Iterator[str]:
    """The kind of each question that a part may take."""
    topics = {each.text for each in part["topics"].items()}
    for template in questions.values():
        is_asked = part["safety"].text != "yes" or template.get("safety") == "yes"
        if template.get("topic") in topics and is_asked:
            yield str(template.get("asks"))


def _part(part: Node, kinds: list[str]) -> Iterator[Problem]:
    wanted = _count(part["questions"])
    if wanted > len(kinds):
        found = f"This part asks for {wanted} questions. Those that fit: {len(kinds)}."
        yield part["questions"].problem(found, "", FEWER)
    least = 0
    for kind in part["at_least"].names:
        node = part["at_least"][kind]
        least += _count(node)
        if kind not in kinds:
            fix = rename_fix(kind, {*kinds}, FEWER)
            yield node.problem(f"No question of this part is of the kind '{kind}'.", "", fix)
        elif _count(node) > kinds.count(kind):
            fit = kinds.count(kind)
            found = f"It asks for {node.text} of the kind '{kind}'. Those that fit: {fit}."
            yield node.problem(found, "", FEWER)
    if least > wanted:
        found = f"Questions: {wanted}. By kind at least: {least}."
        yield part["at_least"].problem(found, "", "ask for more questions, or for fewer by kind")


def _count(node: Node) -> int:
    """A number that is no number is another rule's to report."""
    return int(node.text) if node.text.isdecimal() else 0
