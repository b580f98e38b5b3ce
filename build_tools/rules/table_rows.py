"""Every row of a table has a cell for every column, and the cells of a column are of one kind."""

from collections.abc import Iterator
from typing import Any

from build_tools.problems import Problem, listing
from build_tools.project import Project
from build_tools.read_yaml import Document, Way
from build_tools.rules import Rule
from build_tools.shapes.build import STANDING
from build_tools.values import quantity


def check(project: Project) -> Iterator[Problem]:
    """Look at the rows of each dated entry."""
    for document in project.of_kind("table"):
        columns = _names(document.value.get("columns"))
        values = document.value.get("values")
        for number, entry in enumerate(values if isinstance(values, list) else ()):
            rows = entry.get("rows") if isinstance(entry, dict) else None
            way = ("values", number, "rows")
            listed = rows if isinstance(rows, list) else []
            yield from _widths(document, way, listed, columns)
            yield from _kinds(document, way, listed, columns)


def _names(columns: Any) -> list[str]:
    listed = columns if isinstance(columns, list) else []
    return [str(each.get("name")) for each in listed if isinstance(each, dict)]


def _widths(document: Document, way: Way, rows: list[Any], columns: list[str]) -> Iterator[Problem]:
    for number, row in enumerate(rows):
        if isinstance(row, list) and len(row) != len(columns):
            found = f"This row has {len(row)} cells."
            expected = f"There are {len(columns)} columns: {listing(columns)}."
            fix = 'give it a cell for each column, "" where there is none'
            yield document.problem((*way, number), found, expected, fix)
        for name in row if isinstance(row, dict) else ():
            if name not in columns:
                found, expected = f"There is no column '{name}'.", f"There are: {listing(columns)}."
                yield document.problem(
                    (*way, number, name), found, expected, "name a column", key=True
                )


def _kinds(document: Document, way: Way, rows: list[Any], columns: list[str]) -> Iterator[Problem]:
    for place, column in enumerate(columns):
        first: Any = None
        for number, row in enumerate(rows):
            key: int | str = place if isinstance(row, list) else column
            cell = _cell(row, key)
            here = (*way, number, key)
            if column.endswith("standing"):
                yield from _standing(document, here, cell)
                continue
            value = quantity(cell) if cell else None
            first = first if first is not None else value
            if (
                cell
                and first is not None
                and (value is None or not value.is_compatible_with(first))
            ):
                found = f"'{cell}' is not of the same kind as the cells above it in '{column}'."
                yield document.problem(here, found, "", "use one kind of unit in a column")


def _cell(row: Any, key: int | str) -> str:
    try:
        return str(row[key])
    except (KeyError, IndexError, TypeError):
        return ""


def _standing(document: Document, way: Way, cell: str) -> Iterator[Problem]:
    if cell and cell not in STANDING["enum"]:
        found = f"'{cell}' is no standing."
        yield document.problem(way, found, f"There are: {listing(STANDING['enum'])}.", "use one")


RULE = Rule(
    "table-rows", "Every row of a table has a cell of the right kind for each column.", check
)
