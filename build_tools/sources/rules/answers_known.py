"""What stands for an answer of a visit names a question and an option that it can have."""

from collections.abc import Iterable, Iterator

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem, listing, rename_fix
from build_tools.sources.project import Project, stem_of


def check(project: Project) -> Iterator[Problem]:
    """The choices of each calculator, and the ways of each step."""
    questions = {node.key: node for node in project.each("procedure", "questions", ...)}
    for question in questions.values():
        assumed = question["assumed"]  # for an answer that nobody gave
        if assumed.text:
            yield from _unknown(assumed, "option", assumed.text, question["options"].names)
    yield from _in_calculators(project)
    yield from _in_steps(project)
    for asked in _answers(project):
        yield from _unknown(asked, "question", asked.key, questions)
        options = questions[asked.key]["options"].names if asked.key in questions else []
        for option in asked.texts() if options else ():
            yield from _unknown(asked, "option", option.text, options)


def _unknown(node: Node, what: str, name: str, known: Iterable[str]) -> Iterator[Problem]:
    if name not in known:
        fix = rename_fix(name, known, f"delete '{name}'")
        found, expected = f"There is no {what} '{name}'.", f"There are: {listing(known)}."
        yield node.problem(found, expected, fix, key=True)


def _answers(project: Project) -> Iterator[Node]:
    """Each question that a choice or a way asks, with the answers that it is for."""
    for kind, *key_path in (
        ("calculator", "answers", ..., ...),
        ("procedure", "steps", ..., "outcome", "held_to", ...),
    ):
        for when in project.each(kind, *key_path, "when"):
            yield from (when[question] for question in when.names)
    for when in project.each("visit_record", ..., "when"):
        yield from (when[question] for question in when.names)
    for not_for in project.each("cross_check_visit", "not_for"):
        yield from (not_for[question] for question in not_for.names)


def _in_calculators(project: Project) -> Iterator[Problem]:
    """Inputs and options of the calculator that the answers choose."""
    for given in project.each("calculator", "answers", ...):
        spec = project.calculators.get(stem_of(given.document.file))
        if spec is not None:
            yield from _unknown(given, "input", given.key, spec.inputs)
            known = spec.inputs.get(given.key)
            for option in given.each(..., "option") if known else ():
                yield from _unknown(option, "option", option.text, known or ())


def _in_steps(project: Project) -> Iterator[Problem]:
    """What a way gives and sets of the calculator."""
    for step in project.each("procedure", "steps", ...):
        named = step["outcome"]["calculator"].text or step["calculator"].text
        spec = project.calculators.get(named)
        for way in step.each("outcome", "held_to", ...) if spec is not None else ():
            for key in ("gives", "set"):
                for name in way[key].names:
                    yield from _unknown(way[key][name], "input", name, spec.inputs)
            for name in way["set"].names:
                if known := spec.inputs.get(name):
                    option = way["set"][name]
                    yield from _unknown(option, "option", option.text, known)
