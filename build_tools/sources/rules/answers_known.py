"""What stands for an answer of a visit names a question and an option that it can have."""

from collections.abc import Iterator
from typing import Any, NamedTuple

from build_tools.sources.outcome_form import as_list, as_map, ways_of
from build_tools.sources.problems import Problem, listing, rename_fix
from build_tools.sources.project import Project, stem_of
from build_tools.sources.read_yaml import Document, KeyPath


class Said(NamedTuple):
    """A name, what it must be one of, and where it stands."""

    document: Document
    key_path: KeyPath
    what: str
    name: str
    known: list[str]


def check(project: Project) -> Iterator[Problem]:
    """The choices of each calculator, and the ways of each step."""
    questions: dict[str, Any] = {}
    for document in project.of_kind("procedure"):
        questions |= as_map(document.value.get("questions"))
    for said in (*_assumed(project), *_in_calculators(project), *_in_steps(project)):
        yield from _unknown(said)
    for document, key_path, when in _whens(project):
        for question, options in as_map(when).items():
            at = (*key_path, question)
            yield from _unknown(Said(document, at, "question", question, list(questions)))
            known = list(as_map(as_map(questions.get(question)).get("options")))
            for option in as_list(options) if known else ():
                yield from _unknown(Said(document, at, "option", str(option), known))


def _unknown(said: Said) -> Iterator[Problem]:
    if said.name not in said.known:
        found = f"There is no {said.what} '{said.name}'."
        fix = rename_fix(said.name, said.known, f"delete '{said.name}'")
        expected = f"There are: {listing(said.known)}."
        yield said.document.problem(said.key_path, found, expected, fix, key=True)


def _rules(project: Project) -> Iterator[tuple[Document, str, int, dict[str, Any]]]:
    for document in project.of_kind("calculator"):
        for name, given in as_map(document.value.get("answers")).items():
            for number, rule in enumerate(as_list(given)):
                yield document, name, number, as_map(rule)


def _whens(project: Project) -> Iterator[tuple[Document, KeyPath, Any]]:
    for document, name, number, rule in _rules(project):
        yield document, ("answers", name, number, "when"), rule.get("when")
    for document, step, outcome in _outcomes(project):
        for number, way in ways_of(outcome):
            yield document, ("steps", step, "outcome", "held_to", number, "when"), way.get("when")


def _outcomes(project: Project) -> Iterator[tuple[Document, int, dict[str, Any]]]:
    for document in project.of_kind("procedure"):
        for number, step in enumerate(as_list(document.value.get("steps"))):
            yield document, number, as_map(as_map(step).get("outcome"))


def _in_calculators(project: Project) -> Iterator[Said]:
    """Inputs and options of the calculator that the answers choose."""
    for document, name, number, rule in _rules(project):
        spec = project.calculators.get(stem_of(document.file))
        if spec is None:
            continue
        yield Said(document, ("answers", name), "input", name, list(spec.inputs))
        known, option = list(spec.inputs.get(name, ())), rule.get("option")
        if known and isinstance(option, str):
            key_path = ("answers", name, number, "option")
            yield Said(document, key_path, "option", option, known)


def _in_steps(project: Project) -> Iterator[Said]:
    """What a way gives and sets of the calculator."""
    for document, number, outcome in _outcomes(project):
        step = as_map(document.value["steps"][number])
        spec = project.calculators.get(str(outcome.get("calculator", step.get("calculator"))))
        for place, way in ways_of(outcome) if spec is not None else ():
            at = ("steps", number, "outcome", "held_to", place)
            for key in ("gives", "set"):
                for name in as_map(way.get(key)):
                    yield Said(document, (*at, key, name), "input", name, list(spec.inputs))
            for name, option in as_map(way.get("set")).items():
                if known := list(spec.inputs.get(name, ())):
                    yield Said(document, (*at, "set", name), "option", str(option), known)


def _assumed(project: Project) -> Iterator[Said]:
    """What is taken for an answer that nobody gave."""
    for document in project.of_kind("procedure"):
        for name, question in as_map(document.value.get("questions")).items():
            assumed = as_map(question).get("assumed")
            if isinstance(assumed, str):
                known = list(as_map(as_map(question).get("options")))
                key_path = ("questions", name, "assumed")
                yield Said(document, key_path, "option", assumed, known)
