"""A formula reads no file, no clock and no network, and gives the same digits everywhere."""

import ast
import sys
from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project
from build_tools.sources.python_text import Nodes, nodes_of, of_type

LOOKS_AT = "each file"

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
Said = tuple[str, str, str]  # what was found, what was expected, how to mend it
SAME = "The last digit must be the same in every Python."


def check(project: Project) -> Iterator[Problem]:
    """Look at what each file of calcs imports and calls."""
    for file, text in project.python.items():
        nodes = nodes_of(text) if file != COMMAND_LINE else None
        for node, (found, expected, fix) in _wrong(nodes) if nodes else ():
            yield Problem(file, node.lineno, node.col_offset + 1, "", found, expected, fix)


def _wrong(nodes: Nodes) -> Iterator[tuple[ast.stmt | ast.expr, Said]]:
    for node in of_type(nodes, ast.Import):
        yield from ((node, said) for alias in node.names for said in _import(alias.name))
    for node in of_type(nodes, ast.ImportFrom):
        if node.level:
            yield node, ("This imports by dots.", "", "write the whole name, from calcs on")
        else:
            yield from ((node, said) for said in _import(str(node.module)))
    for node in of_type(nodes, ast.Call):
        yield from ((node, said) for said in _call(node))


def _import(name: str) -> Iterator[Said]:
    top = name.partition(".")[0]
    if top not in OPEN:
        fix = "delete it, and give the formula what it needs as an input or through `ref`"
        yield f"This imports '{top}'.", EXPECTED, fix


def _call(node: ast.Call) -> Iterator[Said]:
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
