"""Whatever data/cross_check/ names is there, and each thing that it may say has its words."""

from collections.abc import Collection, Iterator
from typing import NamedTuple

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem, listing, rename_fix
from build_tools.sources.project import Project, stem_of

STEM = "cross_check"
INPUTS_UNDER = ("inputs", "left", "found")


class Known(NamedTuple):
    """What a name may be one of, and what that is called."""

    what: str
    names: Collection[str]


def check(project: Project) -> Iterator[Problem]:
    """Readings and steps are looked up by the rules for those."""
    for file in project.documents.values():
        if file.file.startswith(f"data/{STEM}/") and not file.is_whole:
            return  # what it may hold counts as there
    yield from _of_relations(project)
    yield from _of_signatures(project)
    yield from _of_settling(project)
    yield from _of_visits(project)


def _keys(project: Project, part: str, *under: str) -> dict[str, Node]:
    return {each.key: each for each in project.each(f"{STEM}_{part}", *under, ...)}


def _unknown(node: Node, name: str, known: Known, *, key: bool = False) -> Iterator[Problem]:
    if name and known.names and name not in known.names:
        fix = rename_fix(name, known.names, f"add '{name}', or delete it here")
        expected = f"There are: {listing(sorted(known.names))}."
        yield node.problem(f"There is no {known.what} '{name}'.", expected, fix, key=key)


def _of_relations(project: Project) -> Iterator[Problem]:
    quantities, errors = _keys(project, "quantities"), _keys(project, "errors")
    parts = _keys(project, "relations", "parts")
    terms = Known("quantity or part", {*quantities, *parts})
    known_errors = Known("error", errors)
    for quantity in quantities.values():
        for each in quantity["of"].items():
            yield from _unknown(each, each.text, Known("quantity", quantities))
        for name in quantity["shares"].names:
            yield from _unknown(quantity["shares"][name], name, known_errors, key=True)
    for relation in (*parts.values(), *_keys(project, "relations", "relations").values()):
        for kind in ("product", "sum"):
            for names in relation[kind].names:
                for name in names.split(" or "):
                    yield from _unknown(relation[kind][names], name, terms, key=True)
        for name in relation["errors"].names:
            yield from _unknown(relation["errors"][name], name, known_errors, key=True)


def _of_signatures(project: Project) -> Iterator[Problem]:
    moved = {*_keys(project, "quantities"), *_keys(project, "errors")}
    takes = _keys(project, "settling", "takes")
    for signature in _keys(project, "signatures", "signatures").values():
        yield from _unworded(project, signature["family"], f"name_{signature['family'].text}")
        for name in signature["errors"].names:
            known = Known("quantity or error", moved)
            yield from _unknown(signature["errors"][name], name, known, key=True)
        shown_by = signature["shown_by"]
        yield from _unknown(shown_by, shown_by.text, Known("reading to take", takes))


def _of_settling(project: Project) -> Iterator[Problem]:
    takes = _keys(project, "settling", "takes")
    quantities = Known("quantity", _keys(project, "quantities"))
    errors = Known("error", _keys(project, "errors"))
    signatures = _keys(project, "signatures", "signatures").values()
    families = Known("family", {each["family"].text for each in signatures})
    for name, take in takes.items():
        yield from _unworded(project, take, f"take_{name}", key=True)
        for key in ("again", "first"):
            yield from _unknown(take[key], take[key].text, quantities)
        for other in take["as"].names:
            yield from _unknown(take["as"][other], other, quantities, key=True)
        for each in take["moved_by"].items():
            yield from _unknown(each, each.text, errors)
        for each in take["stays"].items():
            yield from _unknown(each, each.text, families)
    for node in project.nodes(f"{STEM}_settling"):
        pairs = [pair["pair"] for pair in node["pairs"].items()]
        for each in (one for pair in (*pairs, *node["never"].items()) for one in pair.items()):
            yield from _unknown(each, each.text, families)
        for each in (one for pair in node["pairs"].items() for one in pair["take"].items()):
            yield from _unknown(each, each.text, Known("reading to take", takes))


def _of_visits(project: Project) -> Iterator[Problem]:
    spec = project.calculators.get(STEM)
    inputs = Known("input", spec.inputs if spec else ())
    asked = {*_keys(project, "quantities"), *_keys(project, "settling", "takes")}
    for node in project.nodes(f"{STEM}_visit"):
        for group in INPUTS_UNDER:
            for name in node[group].names:
                yield from _unknown(node[group][name], name, inputs, key=True)
        for each in node["alone"].items():
            yield from _unknown(each, each.text, inputs)
        for name in node["choices"].names:
            yield from _unknown(node["choices"][name], name, inputs, key=True)
            options = spec.inputs.get(name, ()) if spec else ()
            yield from _of_choice(project, node["choices"][name], Known("option", options))
        for group in ("steps", "again_in"):
            for name in node[group].names:
                known = Known("quantity or reading to take", asked)
                yield from _unknown(node[group][name], name, known, key=True)


def _of_choice(project: Project, choice: Node, options: Known) -> Iterator[Problem]:
    """Words that can't be chosen for the reading, and options that the input has not."""
    readings = {each.key: each for each in project.each("visit_record", ...)}
    asked = readings.get(choice["reading"].text)
    words = Known("word", {each.text for each in asked["options"].items()} if asked else ())
    for option in choice["options"].each(...):
        yield from _unknown(option, option.key, words, key=True)
        yield from _unknown(option, option.text, options)


def _unworded(project: Project, node: Node, name: str, *, key: bool = False) -> Iterator[Problem]:
    """A family or a reading to take is told in words of the calculator."""
    for words in project.nodes("calculator"):
        if stem_of(words.document.file) == STEM and name not in words["notes"].names:
            found = f"There are no words '{name}'."
            fix = f"add '{name}' to notes in content/calculators/{STEM}.yaml"
            yield node.problem(found, "", fix, key=key)
