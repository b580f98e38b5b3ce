"""Every name that a calculator declares has words, and no words are left over."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from build_tools.declared import Declared
from build_tools.problems import Problem, listing, nearest
from build_tools.project import Project, stem_of
from build_tools.read_yaml import Document, Way
from build_tools.rules import Rule

GROUPS = ("outputs", "steps", "verdicts", "notes", "rulings")


def check(project: Project) -> Iterator[Problem]:
    """Compare the words of each calculator with what its file in calcs declares."""
    shared = project.one("words").get("inputs", {})
    for document in project.of_kind("calculator"):
        declared = project.calculators.get(stem_of(document.file))
        if declared is not None:
            yield from _inputs(document, declared, shared)
            for group in GROUPS:
                yield from _compare(document, (group,), getattr(declared, group), group[:-1])
            yield from _compare(document, ("tables",), declared.tables, "table")
            for table, columns in declared.tables.items():
                way = ("tables", table, "columns")
                yield from _compare(document, way, columns, "column")


def _inputs(document: Document, declared: Declared, shared: Mapping[str, Any]) -> Iterator[Problem]:
    yield from _compare(document, ("inputs",), declared.inputs, "input", elsewhere=shared)
    own = _at(document, ("inputs",))
    for name, options in declared.inputs.items():
        # Words of the calculator's own replace those that calculators share, as in the bundle.
        if options and name in own:
            yield from _compare(document, ("inputs", name, "options"), options, "option")
    for table, columns in declared.columns.items():
        way = ("inputs", table, "columns")
        yield from _compare(document, way, columns, "column", elsewhere=shared)
        for name, options in columns.items():
            if options and name in _at(document, way):
                yield from _compare(document, (*way, name, "options"), options, "option")


def _compare(
    document: Document,
    way: Way,
    wanted: Iterable[str],
    what: str,
    elsewhere: Iterable[str] = (),
) -> Iterator[Problem]:
    names, words = list(wanted), _at(document, way)
    file = f"calcs/calculators/{stem_of(document.file)}.py"
    strays = [name for name in words if name not in names]
    meant = {nearest(stray, names) for stray in strays}
    for stray in strays:
        found = f"{file} has no {what} '{stray}'."
        close = nearest(stray, [name for name in names if name not in words])
        fix = f"rename it to '{close}'" if close else f"delete '{stray}'"
        yield document.problem((*way, stray), found, f"It has: {listing(names)}.", fix, key=True)
    for name in names:
        if name not in words and name not in elsewhere and name not in meant:
            found = f"There are no words for the {what} '{name}' of {file}."
            yield document.problem(way, found, "", f"add '{name}' here", key=True)


def _at(document: Document, way: Way) -> Mapping[str, Any]:
    value = document.value
    for part in way:
        value = value.get(part) if isinstance(value, dict) else None
    return value if isinstance(value, dict) else {}


RULE = Rule("labels-missing", "Every name that a calculator declares has words.", check)
