"""Looks into the Python of calcs without running it: the names and texts that stand in it."""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import TypeVar

FIGURE_NAME = re.compile(
    r"[a-z][a-z0-9_]*(\.([A-Za-z0-9][A-Za-z0-9_]*|\*|\{[a-z_]+\}|[a-z0-9_]+\*))+"
)


Kind = TypeVar("Kind", bound=ast.AST)


@dataclass(frozen=True)
class Found:
    """A text in a Python file and where it stands, counted from 1."""

    text: str
    line: int
    column: int
    docstring_of: str | None = None  # what it is the docstring of, "" for the file


class Nodes(tuple[ast.AST, ...]):
    """All nodes of a file. Equal to itself alone: to compare thousands would take too long."""

    __slots__ = ()
    __hash__ = object.__hash__
    __eq__ = object.__eq__


@cache
def nodes_of(text: str) -> Nodes | None:
    """The file as Python reads it, walked once for all rules; nothing when it can't be read."""
    try:
        return Nodes(ast.walk(ast.parse(text)))
    except (SyntaxError, ValueError):  # a character that no program may hold
        return None


@cache
def of_type(nodes: Nodes, kind: type[Kind]) -> list[Kind]:
    """The nodes of one type."""
    return [node for node in nodes if type(node) is kind]


def calls(nodes: Nodes, name: str) -> list[ast.Call]:
    """Every call of a plain name, such as `Cite`."""
    return [call for call in of_type(nodes, ast.Call) if getattr(call.func, "id", "") == name]


@cache
def texts(nodes: Nodes) -> tuple[Found, ...]:
    """Every text in a file. An f-string is one text with `*` for each value put in."""
    return tuple(_texts(nodes))


def _texts(nodes: Nodes) -> Iterator[Found]:
    docstrings = dict(_docstrings(nodes))
    inside = {
        id(part)
        for node in of_type(nodes, ast.JoinedStr)
        for part in ast.walk(node)
        if part is not node
    }
    for joined in of_type(nodes, ast.JoinedStr):
        if id(joined) not in inside:
            yield Found(_joined(joined), joined.lineno, joined.col_offset + 1)
    for node in of_type(nodes, ast.Constant):
        if isinstance(node.value, str) and id(node) not in inside:
            owner = docstrings.get(id(node))
            yield Found(node.value, node.lineno, node.col_offset + 1, owner)


def figure_names(nodes: Nodes) -> Iterator[Found]:
    """Every text that has the form of a figure's name, or of a pattern of names."""
    for found in texts(nodes):
        if found.docstring_of is None and FIGURE_NAME.fullmatch(found.text):
            yield found


@cache
def matching(pattern: str) -> re.Pattern[str]:
    """The names that a pattern such as `gas.*.density` or `gas.{gas}.density` stands for."""
    parts = re.split(r"\*|\{[a-z_]+\}", pattern)
    return re.compile("[A-Za-z0-9_.]+".join(map(re.escape, parts)))


def _joined(node: ast.JoinedStr) -> str:
    return "".join(
        str(part.value) if isinstance(part, ast.Constant) else "*" for part in node.values
    )


def _docstrings(nodes: Nodes) -> Iterator[tuple[int, str]]:
    for kind in (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef):
        for node in of_type(nodes, kind):
            first = node.body[0] if node.body else None
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                yield id(first.value), getattr(node, "name", "")
