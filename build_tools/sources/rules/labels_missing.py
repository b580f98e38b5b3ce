"""Every name that a calculator declares has words, and no words are left over."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from build_tools.sources.calculator_spec import CalculatorSpec
from build_tools.sources.problems import Problem, listing, nearest
from build_tools.sources.project import SHARED_LABELS, SHARED_SAYINGS, Project, stem_of
from build_tools.sources.read_yaml import Document, KeyPath, get_path
from build_tools.sources.rule import Rule
from build_tools.sources.schemas.content import CALCULATOR

GROUPS = ("outputs", "steps", "verdicts", *SHARED_SAYINGS)
# Groups whose members have parts of their own: where those stand and what one is called.
NESTED = (("tables", "columns", "column"), ("charts", "series", "series"))


def check(project: Project) -> Iterator[Problem]:
    """Compare the words of each calculator with what its file in calcs declares."""
    words = next(project.of_kind("words"), None)
    shared = {group: _at(words, (group,)) for group in (*SHARED_LABELS, *SHARED_SAYINGS)}
    for document in project.of_kind("calculator"):
        declared = project.calculators.get(stem_of(document.file))
        # What is there can't be told while a file that holds words can't be read whole.
        if declared is not None and document.is_whole and project.are_whole("words"):
            yield from _inputs(document, declared, shared["inputs"])
            for group in GROUPS:
                names, elsewhere = getattr(declared, group), shared.get(group, ())
                yield from _compare(document, (group,), names, group[:-1], elsewhere)
            for group, inner, part in NESTED:
                members = getattr(declared, group)
                yield from _compare(document, (group,), members, group[:-1])
                for member, parts in members.items():
                    yield from _compare(document, (group, member, inner), parts, part)
    # A calculator that can't be loaded may want any of them.
    if project.calculators and not project.calcs_failures:
        for document in project.of_kind("words"):
            yield from _left_over(document, project)
            for group in SHARED_SAYINGS:
                yield from _unsaid(document, group, project)


def _unsaid(document: Document, group: str, project: Project) -> Iterator[Problem]:
    """Shared notes, rulings or refusals that no calculator gives any more."""
    given = {name for declared in project.calculators.values() for name in getattr(declared, group)}
    for name in _at(document, (group,)):
        if name not in given:
            found = f"No calculator has a {group[:-1]} '{name}'."
            yield document.problem((group, name), found, "", f"delete '{name}'", key=True)


def _left_over(document: Document, project: Project) -> Iterator[Problem]:
    """Shared words of inputs that no calculator asks for any more."""
    wanted: dict[str, set[str]] = {}
    for declared in project.calculators.values():
        for inputs in (declared.inputs, *declared.columns.values()):
            for name, options in inputs.items():
                wanted.setdefault(name, set()).update(options)
    for name in _at(document, ("inputs",)):
        key_path = ("inputs", name)
        if name not in wanted:
            found = f"No calculator has an input '{name}'."
            yield document.problem(key_path, found, "", f"delete '{name}'", key=True)
        for option in _at(document, (*key_path, "options")):
            if option not in wanted.get(name, {option}):
                found = f"No calculator has an option '{option}' of '{name}'."
                place = (*key_path, "options", option)
                yield document.problem(place, found, "", f"delete '{option}'", key=True)


def _inputs(
    document: Document, declared: CalculatorSpec, shared: Mapping[str, Any]
) -> Iterator[Problem]:
    yield from _compare(document, ("inputs",), declared.inputs, "input", elsewhere=shared)
    own = _at(document, ("inputs",))
    for name, options in declared.inputs.items():
        # Words of the calculator's own replace those that calculators share, as in the bundle.
        if options and name in own:
            yield from _compare(document, ("inputs", name, "options"), options, "option")
        elif options and name in shared:
            yield from _shared_options(document, name, options, get_path(shared, name, "options"))
    for table, columns in declared.columns.items():
        key_path = ("inputs", table, "columns")
        known = {*shared, *(get_path(shared, table, "columns") or ())}
        yield from _compare(document, key_path, columns, "column", elsewhere=known)
        for name, options in columns.items():
            if options and name in _at(document, key_path):
                yield from _compare(document, (*key_path, name, "options"), options, "option")
            elif (
                options
                and name in shared
                and name not in (get_path(shared, table, "columns") or ())
            ):
                yield from _shared_options(
                    document, name, options, get_path(shared, name, "options")
                )


def _shared_options(
    document: Document, name: str, options: Iterable[str], words: Any
) -> Iterator[Problem]:
    known = words if isinstance(words, dict) else {}
    for option in options:
        if option not in known:
            found = f"The shared words of '{name}' have none for the option '{option}'."
            fix = f"add '{option}' in content/_words.yaml, or all of '{name}' here"
            yield document.problem(("inputs",), found, "", fix, key=True)


def _compare(
    document: Document,
    key_path: KeyPath,
    wanted: Iterable[str],
    what: str,
    elsewhere: Iterable[str] = (),
) -> Iterator[Problem]:
    names, words = list(wanted), _at(document, key_path)
    if _is_shapeless(document, key_path):
        return
    file = f"calcs/calculators/{stem_of(document.file)}.py"
    strays = [name for name in words if name not in names]
    lacking = [name for name in names if name not in words and name not in elsewhere]
    meant = {nearest(stray, lacking) for stray in strays}
    for stray in strays:
        found = f"{file} has no {what} '{stray}'."
        close = nearest(stray, [name for name in names if name not in words])
        fix = f"rename it to '{close}'" if close else f"delete '{stray}'"
        yield document.problem(
            (*key_path, stray), found, f"It has: {listing(names)}.", fix, key=True
        )
    left = [name for name in lacking if name not in meant]
    if len(left) > 1 and not words:
        each = ", ".join(f"'{name}'" for name in left)
        found = f"There are no words for {each} of {file}."
        yield document.problem(
            key_path, found, "", f"add '{key_path[-1]}' with each of them", key=True
        )
        return
    for name in left:
        found = f"There are no words for the {what} '{name}' of {file}."
        yield document.problem(key_path, found, "", f"add '{name}' here", key=True)


def _is_shapeless(document: Document, key_path: KeyPath) -> bool:
    """Whether the shape has more to say of this part than that a name has no words."""
    value = get_path(document.value, *key_path)
    if value is not None and not isinstance(value, dict):
        return True
    schema = CALCULATOR["properties"]
    if value is not None or len(key_path) != 1:
        return (
            value is None
            and len(key_path) > 1
            and not isinstance(get_path(document.value, *key_path[:-1]), dict)
        )
    strays = [key for key in document.value if key not in schema]
    return key_path[0] in CALCULATOR["required"] or any(
        nearest(s, schema) == key_path[0] for s in strays
    )


def _at(document: Document | None, key_path: KeyPath) -> Mapping[str, Any]:
    value = get_path(document.value, *key_path) if document else None
    return value if isinstance(value, dict) else {}


RULE = Rule("labels-missing", "Every name that a calculator declares has words.", check)
