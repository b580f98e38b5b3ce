"""A figure whose uncertainty is in its printed digits is held, and has digits after its point."""

from collections.abc import Iterator

from build_tools.sources.node import Node
from build_tools.sources.parse_value import quantity
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

LOOKS_AT = "each file"

PRINTED = "printed"
EXPECTED = "An uncertainty that is printed is half of the last digit of a measured value."
FIX = "take the key out, or write the figures"


def check(project: Project) -> Iterator[Problem]:
    """Look for the figures behind each `uncertainty`."""
    figures = [("figure", each, "value") for each in project.each(("limits", "gases"), ...)]
    tables = [("table", each, "rows") for each in project.nodes("table")]
    for what, holder, key in [*figures, *tables]:
        values = (text for value in holder.each("values", ..., key) for text in value.texts())
        if holder["uncertainty"].text == PRINTED and not any(map(_is_measured, values)):
            found = f"No value of this {what} has a digit after the point."
            yield holder["uncertainty"].problem(found, EXPECTED, FIX)


def _is_measured(node: Node) -> bool:
    """Whether it is a number with decimals: a whole one may be a count, a limit or a choice."""
    return quantity(node.text) is not None and "." in node.text.partition(" ")[0]
