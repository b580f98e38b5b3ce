"""Every name that a calculator declares has words, and no words are left over."""

from collections.abc import Iterable, Iterator

from build_tools.sources.calculator_spec import CalculatorSpec
from build_tools.sources.node import Node
from build_tools.sources.problems import Problem, listing, nearest, rename_fix
from build_tools.sources.project import SHARED_SAYINGS, Project, stem_of
from build_tools.sources.schema import schema_of

GROUPS = ("outputs", "steps", "verdicts", *SHARED_SAYINGS)
# Groups whose members have parts of their own: where those stand and what one is called.
NESTED = (("tables", "columns", "column"), ("charts", "series", "series"))


def check(project: Project) -> Iterator[Problem]:
    """Compare the words of each calculator with what its file in calcs declares."""
    shared = next(project.nodes("words"), None)
    for words in project.nodes("calculator"):
        spec = project.calculators.get(stem_of(words.document.file))
        # What is there can't be told while a file that holds words can't be read whole.
        if spec is not None and words.document.is_whole and project.are_whole("words"):
            yield from _inputs(words["inputs"], spec, shared["inputs"] if shared else None)
            for group in GROUPS:
                elsewhere = shared[group].names if shared and group in SHARED_SAYINGS else ()
                yield from _compare(words[group], getattr(spec, group), group[:-1], elsewhere)
            for group, inner, part in NESTED:
                members = getattr(spec, group)
                yield from _compare(words[group], members, group[:-1])
                for member, parts in members.items():
                    yield from _compare(words[group][member][inner], parts, part)
    # A calculator that can't be loaded may want any of them.
    if shared and project.calculators and not project.calcs_failures:
        yield from _left_over(shared, [*project.calculators.values()])


def _left_over(shared: Node, specs: list[CalculatorSpec]) -> Iterator[Problem]:
    """Shared words of what no calculator asks for or says any more."""
    wanted: dict[str, set[str]] = {}
    for spec in specs:
        for inputs in (spec.inputs, *spec.columns.values()):
            for name, options in inputs.items():
                wanted.setdefault(name, set()).update(options)
    for name in shared["inputs"].names:
        yield from _unused(shared["inputs"][name], f"an input '{name}'", wanted)
        for option in shared["inputs"][name]["options"].each(...):
            known = wanted.get(name, {option.key})
            yield from _unused(option, f"an option '{option.key}' of '{name}'", known)
    for group in SHARED_SAYINGS:
        given = {name for spec in specs for name in getattr(spec, group)}
        for name in shared[group].names:
            yield from _unused(shared[group][name], f"a {group[:-1]} '{name}'", given)


def _unused(node: Node, what: str, known: Iterable[str]) -> Iterator[Problem]:
    if node.key not in known:
        yield node.problem(f"No calculator has {what}.", "", f"delete '{node.key}'", key=True)


def _inputs(own: Node, spec: CalculatorSpec, shared: Node | None) -> Iterator[Problem]:
    """Words of the calculator's own replace those that calculators share, as in the bundle."""
    known = shared.names if shared else []
    yield from _compare(own, spec.inputs, "input", known)
    for name, options in spec.inputs.items():
        yield from _options(own, name, options, shared)
    for table, columns in spec.columns.items():
        of_table = shared[table]["columns"].names if shared else []
        words = own[table]["columns"]
        yield from _compare(words, columns, "column", {*known, *of_table})
        for name, options in columns.items():
            if name in words or name not in of_table:
                yield from _options(words, name, options, shared)


def _options(
    words: Node, name: str, options: Iterable[str], shared: Node | None
) -> Iterator[Problem]:
    """The options of an input or a column, in its own words or in those that calculators share."""
    if options and name in words:
        yield from _compare(words[name]["options"], options, "option")
    elif shared and name in shared:
        for option in options:
            if option not in shared[name]["options"]:
                found = f"The shared words of '{name}' have none for the option '{option}'."
                fix = f"add '{option}' in content/_words.yaml, or all of '{name}' here"
                yield words.whole["inputs"].problem(found, "", fix, key=True)


def _compare(
    words: Node, wanted: Iterable[str], what: str, elsewhere: Iterable[str] = ()
) -> Iterator[Problem]:
    if _is_shapeless(words):
        return
    names, file = list(wanted), f"calcs/calculators/{stem_of(words.document.file)}.py"
    strays = [name for name in words.names if name not in names]
    lacking = [name for name in names if name not in words and name not in elsewhere]
    meant = {nearest(stray, lacking) for stray in strays}
    unworded = [name for name in names if name not in words]
    for stray in strays:
        fix = rename_fix(stray, unworded, f"delete '{stray}'")
        found, expected = f"{file} has no {what} '{stray}'.", f"It has: {listing(names)}."
        yield words[stray].problem(found, expected, fix, key=True)
    left = [name for name in lacking if name not in meant]
    if len(left) > 1 and not words.names:
        each = ", ".join(f"'{name}'" for name in left)
        found = f"There are no words for {each} of {file}."
        yield words.problem(found, "", f"add '{words.key}' with each of them", key=True)
        return
    for name in left:
        found = f"There are no words for the {what} '{name}' of {file}."
        yield words.problem(found, "", f"add '{name}' here", key=True)


def _is_shapeless(words: Node) -> bool:
    """Whether the shape has more to say of this part than that a name has no words."""
    if words.value is not None:
        return not words.is_mapping
    whole, *above = words.key_path
    if above:
        holder = words.whole
        for key in words.key_path[:-1]:
            holder = holder[key]
        return not holder.is_mapping
    form = schema_of("calculator")
    strays = [key for key in words.whole.names if key not in form["properties"]]
    is_misspelt = any(nearest(stray, form["properties"]) == whole for stray in strays)
    return whole in form["required"] or is_misspelt
