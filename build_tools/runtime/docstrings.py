"""Takes docstrings out of sources that only a browser runs: nobody reads them there."""

import ast
from collections.abc import Iterator
from importlib.util import decode_source
from typing import TypeAlias

Documented: TypeAlias = ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef
STATEMENTS = ("body", "orelse", "finalbody", "handlers", "cases")  # parts that hold statements


def without_docstrings(source: bytes, kept: str = "") -> str:
    """The same source without its docstrings. Every line keeps its number, for a traceback.

    Args:
        source: A module.
        kept: The name of a function whose docstring is read as it runs, if there is one.
    """
    text = decode_source(source)
    lines = text.encode().split(b"\n")
    for node in with_docstrings(ast.parse(text)):
        if not (kept and isinstance(node, ast.FunctionDef) and node.name == kept):
            _blank(lines, node.body[0], is_all=len(node.body) == 1)
    return b"\n".join(lines).decode()


def with_docstrings(tree: ast.Module) -> Iterator[Documented]:
    """All that has a docstring. Expressions, which are most of a tree, have none."""
    waiting: list[ast.AST] = [tree]
    while waiting:
        node = waiting.pop()
        if isinstance(node, Documented) and ast.get_docstring(node, clean=False) is not None:
            yield node
        for part in STATEMENTS:
            waiting += getattr(node, part, ())


def _blank(lines: list[bytes], words: ast.stmt, *, is_all: bool) -> None:
    """Leave nothing of a statement but its lines, or `pass` where a body must have one."""
    first, last = words.lineno - 1, (words.end_lineno or words.lineno) - 1
    before, after = lines[first][: words.col_offset], lines[last][words.end_col_offset :]
    stands_in = b"pass" if is_all or after.lstrip().startswith(b";") else b""
    lines[first : last + 1] = [before + stands_in + after.rstrip(), *[b""] * (last - first)]
