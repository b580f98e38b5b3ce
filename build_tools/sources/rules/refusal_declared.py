"""A formula refuses by the id of words in content/, and its calculator declares that id."""

import ast
from collections.abc import Iterator
from functools import partial

from build_tools.sources.naming import At
from build_tools.sources.problems import Problem, rename_fix
from build_tools.sources.project import Project, stem_of
from build_tools.sources.python_text import calls, nodes_of, texts

LOOKS_AT = "calcs"

# What a formula refuses with. The second argument is the id; without one the engine words it.
REFUSALS = ("Impossible", "Missing", "NotHeld", "NotInForce", "WrongUnit")
CALCULATORS, SHARED = "calcs/calculators/", "calcs/domain/"
EXPECTED = "The words of a refusal stand under 'refusals' in content/, by an id."


def check(project: Project) -> Iterator[Problem]:
    """Look at each refusal of a formula, and at each that a calculator declares."""
    if project.calcs_failures:
        return  # a calculator that can't be loaded may declare any of them
    given: set[str] = set()
    for file, text in project.python.items():
        for reason in _reasons(text) if file.startswith("calcs/") else ():
            names = [each.value for each in ast.walk(reason) if isinstance(each, ast.Constant)]
            given.update(map(str, names))
            at = partial(Problem, file, reason.lineno, reason.col_offset + 1, "")
            if not names or not all(str(name).isidentifier() for name in names):
                fix = "put the words there and write their id here"
                yield at("This is no id of words.", EXPECTED, fix)
            else:
                yield from _undeclared(names, file, project, at)
    yield from _never_given(given, project)


def _reasons(text: str) -> Iterator[ast.expr]:
    nodes = nodes_of(text)
    for name in REFUSALS if nodes else ():
        yield from (call.args[1] for call in calls(nodes, name) if len(call.args) > 1)


def _undeclared(names: list[str], file: str, project: Project, at: At) -> Iterator[Problem]:
    """What is refused in a calculator it declares itself; elsewhere one that comes there does."""
    if file.startswith(CALCULATORS):
        own = project.calculators.get(stem_of(file))
        known, fix = set(own.refusals) if own else set(names), "the 'refusals' of its CALCULATOR"
    else:
        known = {name for each in project.calculators.values() for name in each.refusals}
        fix = "the 'refusals' of each calculator that comes here"
    for name in names:
        if name not in known:
            yield at(f"No calculator declares the refusal '{name}'.", "", f"add '{name}' to {fix}")


def _never_given(given: set[str], project: Project) -> Iterator[Problem]:
    for stem, declared in project.calculators.items():
        file = f"{CALCULATORS}{stem}.py"
        nodes = nodes_of(project.python.get(file, ""))
        for name in declared.refusals if nodes and len(nodes) > 1 else ():
            if name not in given:
                places = [each for each in texts(nodes or ()) if each.text == name]
                line, column = (places[0].line, places[0].column) if places else (1, 1)
                fix = rename_fix(name, given, f"take '{name}' out of its refusals")
                yield Problem(file, line, column, "", f"Nothing refuses by '{name}'.", "", fix)
