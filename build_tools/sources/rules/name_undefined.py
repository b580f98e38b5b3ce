"""Every name that a formula uses is defined: Python asks only when it comes to that line."""

import ast
import builtins
import symtable
from collections.abc import Iterator
from functools import lru_cache

from build_tools.sources.problems import Problem, nearest, slip_of
from build_tools.sources.project import Project
from build_tools.sources.python_text import Nodes, nodes_of

LOOKS_AT = "each file"

GIVEN = {*dir(builtins), "__name__", "__file__", "__doc__", "__path__", "__spec__"}


def check(project: Project) -> Iterator[Problem]:
    """Ask Python's own tables which names of each file come from nowhere."""
    for file, text in project.python.items():
        yield from _in_text(file, text)


@lru_cache(maxsize=512)
def _in_text(file: str, text: str) -> tuple[Problem, ...]:
    nodes = nodes_of(text)
    if nodes is None or any(_takes_all(node) for node in nodes):
        return ()
    return tuple(_in_file(file, symtable.symtable(text, file, "exec"), nodes))


def _takes_all(node: ast.AST) -> bool:
    return isinstance(node, ast.ImportFrom) and any(each.name == "*" for each in node.names)


def _in_file(file: str, top: symtable.SymbolTable, nodes: Nodes) -> Iterator[Problem]:
    known = {
        symbol.get_name()
        for symbol in top.get_symbols()
        if symbol.is_assigned() or symbol.is_imported() or symbol.is_namespace()
    }
    for table in _all(top):
        for symbol in table.get_symbols():
            name = symbol.get_name()
            is_outer = table is top or symbol.is_global()
            if symbol.is_referenced() and is_outer and name not in known | GIVEN:
                yield _problem(file, name, table, nodes, known | GIVEN)


def _all(table: symtable.SymbolTable) -> Iterator[symtable.SymbolTable]:
    yield table
    for inner in table.get_children():
        yield from _all(inner)


def _problem(
    file: str, name: str, table: symtable.SymbolTable, nodes: Nodes, known: set[str]
) -> Problem:
    uses = [
        (node.lineno, node.col_offset + 1)
        for node in nodes
        if isinstance(node, ast.Name) and node.id == name and node.lineno >= table.get_lineno()
    ]
    line, column = min(uses, default=(table.get_lineno() or 1, 1))
    own = set(table.get_identifiers()) - {name}
    close = nearest(name, sorted(own | (known - GIVEN))) or slip_of(name, sorted(GIVEN))
    fix = f"rename it to '{close}'" if close else "define it, or import it"
    return Problem(file, line, column, "", f"Nothing here is called '{name}'.", "", fix)
