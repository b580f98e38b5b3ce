"""Keys stand in the order of their kind, so that every file reads alike."""

from collections.abc import Iterator

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"


def check(project: Project) -> Iterator[Problem]:
    """Compare each mapping with the order of the keys in its schema."""
    for _, node, form in project.forms:
        order = list(form.get("properties", ()))
        yield from _in_order(node, [key for key in node.names if key in order], order)


def _in_order(node: Node, keys: list[str], order: list[str]) -> Iterator[Problem]:
    latest = ""
    for key in keys:
        if latest and order.index(key) < order.index(latest):
            after = [each for each in keys if order.index(each) > order.index(key)]
            first = min(after, key=order.index)
            found = f"'{key}' stands after '{latest}'."
            expected = f"The order is: {', '.join(each for each in order if each in keys)}."
            fix = f"move it up, in front of '{first}'"
            yield node[key].problem(found, expected, fix, key=True)
        else:
            latest = key
