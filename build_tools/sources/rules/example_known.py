"""A worked example gives readings of the invented visit to inputs that the calculator has."""

from collections.abc import Iterator

from build_tools.sources.calculator_spec import CalculatorSpec
from build_tools.sources.naming import INSTRUMENT, VISITED, missing
from build_tools.sources.node import Node
from build_tools.sources.parse_value import measure_of
from build_tools.sources.problems import Problem, listing, nearest, rename_fix
from build_tools.sources.project import Project, stem_of


def check(project: Project) -> Iterator[Problem]:
    """Look up each input and each value that a worked example gives."""
    for example in project.each("calculator", "example"):
        spec = project.calculators.get(stem_of(example.document.file))
        if spec is not None:
            yield from _given(example["given"], spec.inputs, spec, project)
        # Inputs whose reading only stands in for any: those of the example alone can be.
        known = example["given"].names
        for node in example["any_reading"].items():
            if node.value not in known:
                found = f"The example gives no '{node.text}'."
                fix = rename_fix(node.text, known, f"delete '{node.text}'")
                yield node.problem(found, f"It gives: {listing(known)}.", fix)
        forms = [each.key for each in project.each("scenario", "forms", ...)]
        for node in example["also"].items():
            if node.text not in forms and not project.may_hold(node.text, "scenario"):
                found = f"The invented visit has no form '{node.text}'."
                fix = rename_fix(node.text, forms, f"delete '{node.text}'")
                yield node.problem(found, f"It has: {listing(forms)}.", fix)


def _given(
    given: Node, inputs: dict[str, tuple[str, ...]], spec: CalculatorSpec, project: Project
) -> Iterator[Problem]:
    for name in given.names:
        node = given[name]
        if name not in inputs:
            found, expected = f"There is no input '{name}'.", f"There are: {listing(inputs)}."
            fix = rename_fix(name, inputs, f"delete '{name}'")
            yield node.problem(found, expected, fix, key=True)
        elif node.text.startswith("="):
            options = (*inputs[name], *_instruments(spec.measures.get(name), project))
            yield from _choice(node, options, project)
        elif node.text:
            unit = spec.units.get(name)
            measure = None if unit is None else measure_of(unit)
            yield from missing(project, VISITED, node.text, node.problem, measure)
        for row in node.items():
            yield from _given(row, spec.columns.get(name, {}), spec, project)


def _instruments(measures: str | None, project: Project) -> list[str]:
    """Those that a choice of an instrument offers: all that measure the one thing; "*" for any."""
    known = project.each("instruments", ...)
    wanted = {measures} - {None}
    return [each.key for each in known if wanted & {"*", str(each["measures"].value)}]


def _choice(node: Node, options: tuple[str, ...], project: Project) -> Iterator[Problem]:
    value = node.text.removeprefix("=")
    if options and value not in options and not project.may_hold(value, *INSTRUMENT.files):
        close = nearest(value, options)
        fix = f"write '={close}'" if close else "write one of these after the ="
        yield node.problem(f"'{value}' is no option.", f"There are: {listing(options)}.", fix)
