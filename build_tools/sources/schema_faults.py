"""Where a file does not fit the schema of its kind, in the project's own words."""

import re
from collections.abc import Iterator

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem, listing, nearest, rename_fix
from build_tools.sources.project import Project
from build_tools.sources.schema import TYPES, Schema

SAID = {"string": "text", "array": "a list", "object": "a mapping of keys"}
LEAST = {"string": "minLength", "array": "minItems", "object": "minProperties"}
QUOTE = "put quotation marks round the whole text: in braces a comma starts a new key"


def faults(project: Project, *kinds: str) -> Iterator[Problem]:
    """Every place of these kinds of file, or of all, that does not fit."""
    for kind, node, form in project.forms:
        if not kinds or kind in kinds:
            yield from _faults(node, form)


def _faults(node: Node, form: Schema) -> Iterator[Problem]:
    kind = TYPES[type(node.value)]
    wanted = form.get("type", kind)
    wanted = [wanted] if isinstance(wanted, str) else wanted
    if kind not in wanted:
        found = f"This is {SAID[kind]}." if node.value else "This is empty."
        said = " or ".join(SAID[each] for each in wanted)
        yield node.problem(found, f"It must be {said}.", f"write {said}")
    elif len(node.value) < form.get(LEAST[kind], 0):
        found = "This list is empty." if kind == "array" else "This is empty."
        yield node.problem(found, "", "fill it in, or delete its key")
    elif kind == "string":
        yield from _of_text(node, form)
    elif kind == "object":
        yield from _of_keys(node, form)


def _of_text(node: Node, form: Schema) -> Iterator[Problem]:
    options = form.get("enum")
    if options and node.value not in options:
        fix = rename_fix(node.value, options, f"write {' or '.join(options)}")
        found = f"'{node.value}' can't stand here."
        yield node.problem(found, f"There can be: {listing(options)}.", fix)
    elif not re.search(form.get("pattern", ""), node.value):
        yield node.problem(f"'{node.value}' is not {form['says']}.", "", f"write {form['says']}")


def _of_keys(node: Node, form: Schema) -> Iterator[Problem]:
    known, is_closed = form.get("properties", {}), form.get("additionalProperties") is False
    strays = [key for key in node.names if key not in known]
    for key in form.get("required", ()):
        if key not in node.value:
            meant = [stray for stray in strays if nearest(stray, known) == key]
            found = f"The key '{key}' is missing here."
            if not meant:
                yield node.problem(found, "", f"add '{key}'", key=True)
            elif not is_closed:  # no other problem says that of the stray
                yield node[meant[0]].problem(found, "", f"rename it to '{key}'", key=True)
    for key in strays:
        names = form.get("propertyNames", {})
        if is_closed:
            found, expected = f"There is no key '{key}' here.", f"There are: {listing(known, 20)}."
            fix = QUOTE if " " in key else rename_fix(key, known, f"delete '{key}'")
            yield node[key].problem(found, expected, fix, key=True)
        elif not re.search(names.get("pattern", ""), key):
            found, fix = f"'{key}' is not {names['says']}.", f"write {names['says']}"
            yield node[key].problem(found, "", fix, key=True)
