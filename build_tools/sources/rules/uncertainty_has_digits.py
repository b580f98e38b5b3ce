"""A figure whose uncertainty is in its printed digits is held, and has digits after its point."""

from collections.abc import Iterator
from typing import Any

from build_tools.sources.parse_value import quantity
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.rule import Rule

PRINTED = "printed"
EXPECTED = "An uncertainty that is printed is half of the last digit of a measured value."
FIX = "take the key out, or write the figures"


def check(project: Project) -> Iterator[Problem]:
    """Look for the figures behind each `uncertainty`."""
    for document in project.of_kind("limits", "gases"):
        for name, figure in document.value.items():
            if isinstance(figure, dict) and figure.get("uncertainty") == PRINTED:
                values = [each.get("value") for each in _dated_values(figure)]
                if not any(map(_is_measured, values)):
                    yield document.problem((name, "uncertainty"), _found("figure"), EXPECTED, FIX)
    for document in project.of_kind("table"):
        if document.value.get("uncertainty") == PRINTED:
            cells = [cell for each in _dated_values(document.value) for cell in _cells(each)]
            if not any(map(_is_measured, cells)):
                yield document.problem(("uncertainty",), _found("table"), EXPECTED, FIX)


def _found(what: str) -> str:
    return f"No value of this {what} has a digit after the point."


def _dated_values(figure: Any) -> list[Any]:
    values = figure.get("values")
    return [each for each in values if isinstance(each, dict)] if isinstance(values, list) else []


def _cells(dated_value: Any) -> Iterator[Any]:
    for row in dated_value.get("rows") or ():
        yield from row.values() if isinstance(row, dict) else row


def _is_measured(text: Any) -> bool:
    """Whether it is a number with decimals: a whole one may be a count, a limit or a choice."""
    return isinstance(text, str) and quantity(text) is not None and "." in text.partition(" ")[0]


RULE = Rule("uncertainty-has-digits", "A figure good to its last digit is a measured one.", check)
