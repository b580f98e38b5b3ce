"""Every row of a table has a cell for every column, and each is what its column declares."""

from collections.abc import Iterator
from typing import Any

from build_tools.sources.parse_value import PROVENANCE
from build_tools.sources.problems import Problem, listing
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document, KeyPath
from build_tools.sources.rule import Rule
from build_tools.sources.rules.unit_parses import declared, fit
from build_tools.sources.schemas.forms import PROVENANCES


def check(project: Project) -> Iterator[Problem]:
    """Look at the columns, and at the rows of each dated value."""
    for document in project.of_kind("table"):
        columns = _columns(document.value.get("columns"))
        names = [str(column.get("name")) for column in columns.values()]
        listed = list(_rows(document.value.get("values")))
        for place, column in columns.items():
            cells = [cell for _, cell in _cells(listed, place, column)]
            yield from declared(document, ("columns", place), column, cells)
        for key_path, rows in listed:
            yield from _widths(document, key_path, rows, names)
            for place, column in columns.items():
                yield from _column(document, key_path, rows, place, column)


def _rows(values: Any) -> Iterator[tuple[KeyPath, list[Any]]]:
    for number, dated_value in enumerate(values if isinstance(values, list) else ()):
        rows = dated_value.get("rows") if isinstance(dated_value, dict) else None
        yield ("values", number, "rows"), rows if isinstance(rows, list) else []


def _columns(columns: Any) -> dict[int, dict[str, Any]]:
    listed = columns if isinstance(columns, list) else []
    return {place: each for place, each in enumerate(listed) if isinstance(each, dict)}


def _widths(
    document: Document, key_path: KeyPath, rows: list[Any], columns: list[str]
) -> Iterator[Problem]:
    for number, row in enumerate(rows):
        if isinstance(row, list) and len(row) != len(columns):
            found = f"This row has {len(row)} cells."
            expected = f"There are {len(columns)} columns: {listing(columns)}."
            fix = 'give it a cell for each column, "" where there is none'
            yield document.problem((*key_path, number), found, expected, fix)
        for name in row if isinstance(row, dict) else ():
            if name not in columns:
                found, expected = f"There is no column '{name}'.", f"There are: {listing(columns)}."
                yield document.problem(
                    (*key_path, number, name), found, expected, "name a column", key=True
                )


def _column(
    document: Document, key_path: KeyPath, rows: list[Any], place: int, column: dict[str, Any]
) -> Iterator[Problem]:
    cells = list(_cells([(key_path, rows)], place, column))
    if column.get("kind") == PROVENANCE:
        for here, cell in cells:
            yield from _provenance(document, here, cell)
    else:
        yield from fit(document, cells, column)


def _cells(
    listed: list[tuple[KeyPath, list[Any]]], place: int, column: dict[str, Any]
) -> Iterator[tuple[KeyPath, str]]:
    """The cells of a column that are not empty, each with its place."""
    for key_path, rows in listed:
        for number, row in enumerate(rows):
            key: int | str = place if isinstance(row, list) else str(column.get("name"))
            if cell := _cell(row, key):
                yield (*key_path, number, key), cell


def _cell(row: Any, key: int | str) -> str:
    try:
        return str(row[key])
    except (KeyError, IndexError, TypeError):
        return ""


def _provenance(document: Document, key_path: KeyPath, cell: str) -> Iterator[Problem]:
    if cell not in PROVENANCES:
        found = f"'{cell}' is no provenance."
        yield document.problem(key_path, found, f"There are: {listing(PROVENANCES)}.", "use one")


RULE = Rule(
    "table-rows", "Every row of a table has a cell of the right kind for each column.", check
)
