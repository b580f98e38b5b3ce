"""Looks into the Python of calcs without running it: the names and texts that stand in it."""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass

RECORD = re.compile(r"[a-z][a-z0-9_]*(\.([A-Za-z0-9][A-Za-z0-9_]*|\*|\{[a-z_]+\}|[a-z0-9_]+\*))+")


@dataclass(frozen=True)
class Found:
    """A text in a Python file and where it stands, counted from 1."""

    text: str
    line: int
    column: int
    docstring_of: str | None = None  # what it is the docstring of, "" for the file


def tree_of(text: str) -> ast.Module | None:
    """The file as Python reads it; nothing when it can't."""
    try:
        return ast.parse(text)
    except SyntaxError:
        return None


def texts(tree: ast.Module) -> Iterator[Found]:
    """Every text in a file. An f-string is one text with `*` for each value put in."""
    docstrings = dict(_docstrings(tree))
    inside = {
        id(part)
        for node in ast.walk(tree)
        if isinstance(node, ast.JoinedStr)
        for part in ast.walk(node)
        if part is not node
    }
    for node in ast.walk(tree):
        if id(node) in inside:
            continue
        if isinstance(node, ast.JoinedStr):
            yield Found(_joined(node), node.lineno, node.col_offset + 1)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            owner = docstrings.get(id(node))
            yield Found(node.value, node.lineno, node.col_offset + 1, owner)


def record_names(tree: ast.Module) -> Iterator[Found]:
    """Every text that has the form of a record's name, or of a pattern of names."""
    for found in texts(tree):
        if found.docstring_of is None and RECORD.fullmatch(found.text):
            yield found


def matching(pattern: str) -> re.Pattern[str]:
    """The names that a pattern such as `gas.*.density` or `gas.{gas}.density` stands for."""
    parts = re.split(r"\*|\{[a-z_]+\}", pattern)
    return re.compile("[A-Za-z0-9_.]+".join(map(re.escape, parts)))


def _joined(node: ast.JoinedStr) -> str:
    return "".join(
        str(part.value) if isinstance(part, ast.Constant) else "*" for part in node.values
    )


def _docstrings(tree: ast.Module) -> Iterator[tuple[int, str]]:
    for node in ast.walk(tree):
        holders = ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef
        if isinstance(node, holders) and node.body:
            first = node.body[0]
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                yield id(first.value), getattr(node, "name", "")
