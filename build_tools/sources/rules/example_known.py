"""A worked example gives readings of the invented visit to inputs that the calculator has."""

from collections.abc import Iterator
from functools import partial
from typing import Any

from build_tools.sources.calculator_spec import CalculatorSpec
from build_tools.sources.naming import INSTRUMENT, VISITED, missing
from build_tools.sources.parse_value import measure_of
from build_tools.sources.problems import Problem, listing, nearest
from build_tools.sources.project import Project, stem_of
from build_tools.sources.read_yaml import Document, KeyPath, get_path
from build_tools.sources.rule import Rule


def check(project: Project) -> Iterator[Problem]:
    """Look up each input and each value that a worked example gives."""
    for document in project.of_kind("calculator"):
        declared = project.calculators.get(stem_of(document.file))
        key_path = ("example", "given")
        given = get_path(document.value, *key_path)
        if declared is not None:
            yield from _given(
                document,
                key_path,
                given,
                inputs=declared.inputs,
                declared=declared,
                project=project,
            )
        yield from _any_reading(document, given)


def _any_reading(document: Document, given: Any) -> Iterator[Problem]:
    """Inputs whose reading only stands in for any: those of the example alone can be."""
    names = get_path(document.value, "example", "any_reading")
    known = list(given) if isinstance(given, dict) else []
    for number, name in enumerate(names if isinstance(names, list) else []):
        if name not in known:
            close = nearest(name, known)
            fix = f"rename it to '{close}'" if close else f"delete '{name}'"
            found, expected = f"The example gives no '{name}'.", f"It gives: {listing(known)}."
            yield document.problem(("example", "any_reading", number), found, expected, fix)


def _given(
    document: Document,
    key_path: KeyPath,
    given: Any,
    *,
    inputs: dict[str, tuple[str, ...]],
    declared: CalculatorSpec,
    project: Project,
) -> Iterator[Problem]:
    for name, value in given.items() if isinstance(given, dict) else ():
        if name not in inputs:
            close = nearest(name, inputs)
            fix = f"rename it to '{close}'" if close else f"delete '{name}'"
            found, expected = f"There is no input '{name}'.", f"There are: {listing(inputs)}."
            yield document.problem((*key_path, name), found, expected, fix, key=True)
        elif isinstance(value, str):
            options = _options(name, inputs[name], declared, project)
            unit = declared.units.get(name)
            measure = None if unit is None else measure_of(unit)
            if value.startswith("="):
                yield from _choice(document, (*key_path, name), value[1:], options, project)
            else:
                at = partial(document.problem, (*key_path, name))
                yield from missing(project, VISITED, value, at, measure)
        else:
            rows = value if isinstance(value, list) else []
            for number, row in enumerate(rows):
                columns = declared.columns.get(name, {})
                inner = (*key_path, name, number)
                yield from _given(
                    document, inner, row, inputs=columns, declared=declared, project=project
                )


def _options(
    name: str, options: tuple[str, ...], declared: CalculatorSpec, project: Project
) -> tuple[str, ...]:
    """The words that a choice takes; for an instrument, those of its kind too."""
    kind = declared.measures.get(name)
    if kind is None:
        return options
    instruments = project.one("instruments")
    fitting = [
        key for key in instruments if kind in {"*", str(get_path(instruments, key, "measures"))}
    ]
    return (*options, *fitting)


def _choice(
    document: Document, key_path: KeyPath, value: str, options: tuple[str, ...], project: Project
) -> Iterator[Problem]:
    if options and value not in options and not project.may_hold(value, *INSTRUMENT.files):
        close = nearest(value, options)
        fix = f"write '={close}'" if close else "write one of these after the ="
        found, expected = f"'{value}' is no option.", f"There are: {listing(options)}."
        yield document.problem(key_path, found, expected, fix)


RULE = Rule("example-known", "A worked example gives known readings to known inputs.", check)
