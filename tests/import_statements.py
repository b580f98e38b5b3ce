"""The imports of a Python file, wherever in it they stand."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

# Where statements stand in one another. An expression holds none, and most of a file is those.
_WITHIN = ("body", "orelse", "finalbody", "handlers", "cases")


@cache
def import_statements(path: Path) -> list[ast.Import | ast.ImportFrom]:
    """In the order of the file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [node for node in _statements(tree) if isinstance(node, ast.Import | ast.ImportFrom)]


def _statements(node: ast.AST) -> Iterator[ast.AST]:
    yield node
    for part in _WITHIN:
        # The body of a lambda and of `a if b else c` is an expression, and no list.
        inside = getattr(node, part, ())
        for each in inside if isinstance(inside, list) else ():
            yield from _statements(each)
