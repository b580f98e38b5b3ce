"""A formula reads no file, no clock and no network, and gives the same digits everywhere."""

import ast
import sys
from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.python_text import nodes_of

COMMAND_LINE = "calcs/__main__.py"  # the one file of calcs that may read and print
# Files, clock, network, processes and chance: a formula has no use for any of them.
CLOSED = {
    *("os", "io", "pathlib", "shutil", "tempfile", "glob", "fileinput", "sqlite3", "pickle"),
    *("time", "sched", "calendar", "random", "secrets"),
    *("socket", "ssl", "http", "urllib", "ftplib", "smtplib", "asyncio", "select"),
    *("subprocess", "multiprocessing", "threading", "signal", "ctypes", "logging"),
}
OPEN = (set(sys.stdlib_module_names) - CLOSED) | {"pint", "calcs"}
CLOSED_CALLS = {"open", "print", "input", "eval", "exec", "compile", "__import__", "breakpoint"}
CLOCK = {"now", "today", "utcnow", "fromtimestamp"}
OTHER_DIGITS = {"hypot", "dist", "fma"}  # they round otherwise from one Python to the next
EXPECTED = "A formula works on what it is given, with the standard library and pint."
SAME = "The last digit must be the same in every Python."


def check(project: Project) -> Iterator[Problem]:
    """Look at what each file of calcs imports and calls."""
    for file, text in project.python.items():
        nodes = nodes_of(text) if file != COMMAND_LINE else None
        for node in nodes or ():
            for found, expected, fix in _wrong(node):
                line, column = node.lineno, node.col_offset + 1  # type: ignore[attr-defined]
                yield Problem(file, line, column, "", found, expected, fix)


def _wrong(node: ast.AST) -> Iterator[tuple[str, str, str]]:
    if isinstance(node, ast.Import):
        for alias in node.names:
            yield from _import(alias.name)
    elif isinstance(node, ast.ImportFrom):
        if node.level:
            yield "This imports by dots.", "", "write the whole name, from calcs on"
        else:
            yield from _import(str(node.module))
    elif isinstance(node, ast.Call):
        yield from _call(node)


def _import(name: str) -> Iterator[tuple[str, str, str]]:
    top = name.partition(".")[0]
    if top not in OPEN:
        fix = "delete it, and give the formula what it needs as an input or through `ref`"
        yield f"This imports '{top}'.", EXPECTED, fix


def _call(node: ast.Call) -> Iterator[tuple[str, str, str]]:
    plain, method = getattr(node.func, "id", ""), getattr(node.func, "attr", "")
    if plain in CLOSED_CALLS:
        yield f"This calls '{plain}'.", EXPECTED, "delete it"
    if method in CLOCK:
        yield f"This asks the clock, by '{method}'.", EXPECTED, "take the day as an input"
    if (plain or method) in OTHER_DIGITS:
        yield f"This calls '{plain or method}'.", SAME, "write out the sum and the square root"
    if plain == "sum" and not any(keyword.arg == "start" for keyword in node.keywords):
        fix = "use math.fsum for plain numbers, and 'start=' for quantities"
        yield "This calls 'sum' without a start.", SAME, fix
