"""Every row of a table has a cell for every column, and each is what its column declares."""

from collections.abc import Iterator

from build_tools.sources.node import Node
from build_tools.sources.parse_value import PROVENANCE
from build_tools.sources.problems import Problem, listing
from build_tools.sources.project import Project
from build_tools.sources.rules.unit_parses import misfits, unit_problems
from build_tools.sources.schema import words_of

LOOKS_AT = "each file"


def check(project: Project) -> Iterator[Problem]:
    """Look at the columns, and at the rows of each dated value."""
    for table in project.nodes("table"):
        columns = [column for column in table["columns"].items() if column.is_mapping]
        rows = list(table.each("values", ..., "rows", ...))
        for column in columns:
            yield from unit_problems(column, _cells(_fitting(rows, columns), column))
        yield from of_rows(columns, rows)


def of_rows(columns: list[Node], rows: list[Node]) -> Iterator[Problem]:
    """What is wrong with the rows of a table that has these columns."""
    for row in rows:
        yield from _width(row, [str(column["name"].value) for column in columns])
    for column in columns:
        cells = _cells(_fitting(rows, columns), column)
        if column["kind"].text == PROVENANCE:
            yield from _provenances(cells)
        else:
            yield from misfits(cells, column.value)


def _fitting(rows: list[Node], columns: list[Node]) -> list[Node]:
    """Rows of the right width: of another nobody knows which cell is of which column."""
    return [row for row in rows if row.is_mapping or len(row.items()) == len(columns)]


def _cells(rows: list[Node], column: Node) -> list[Node]:
    return [cell for row in rows if (cell := _cell(row, column)).text]


def _width(row: Node, columns: list[str]) -> Iterator[Problem]:
    if row.items() and len(row.items()) != len(columns):
        expected = f"There are {len(columns)} columns: {listing(columns)}."
        fix = 'give it a cell for each column, "" where there is none'
        if len(row.items()) > len(columns):
            fix = "write a number with a point, for a comma parts two cells; or leave a cell out"
        yield row.problem(f"This row has {len(row.items())} cells.", expected, fix)
    for name in row.names:
        if name not in columns:
            found, expected = f"There is no column '{name}'.", f"There are: {listing(columns)}."
            yield row[name].problem(found, expected, "name a column", key=True)


def _cell(row: Node, column: Node) -> Node:
    """A cell of a row that is a list, or that names its columns."""
    return row[column["name"].text if row.is_mapping else column.key_path[-1]]


def _provenances(cells: list[Node]) -> Iterator[Problem]:
    known = words_of("provenance")
    for cell in cells:
        if cell.text not in known:
            found = f"'{cell.text}' is no provenance."
            yield cell.problem(found, f"There are: {listing(known)}.", "use one")
