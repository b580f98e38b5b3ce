"""No number with a unit stands in content or calcs: it would escape its source and its date."""

import ast
import re
from collections.abc import Iterator

from build_tools.sources.number_with_unit import figures
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project, kind_of
from build_tools.sources.python_text import Nodes, calls, nodes_of, texts

LOOKS_AT = "each file"

EXPECTED = "Numbers with a unit stand in data/, each with its source and its date."
IN_CONTENT = "put it in a figure under data/limits/ and write {name.of.the.figure} here"
IN_OVERLAY = "say it without the number, or as a limit of your own under limits/"
HOST_WORDS = {"overlay", "words_of", "outcomes"}
IN_CALCS = "put it in a figure under data/limits/ and take it from `ref`"
DOCTEST = re.compile(r"^[ ]*>>>.*?(?=^[ ]*$|\Z)", re.DOTALL | re.MULTILINE)
COMMAND_LINE = "calcs/command_line/words.py"  # its help shows how to type a figure
HARMLESS = {0, 1}  # a unit or nothing of it
DRAWN = {"draw", "within"}  # of a question: what is drawn, and how far off an answer may be


def check(project: Project) -> Iterator[Problem]:
    """Look through the words and through the formulas."""
    for node in project.words:
        if kind_of(node.document.place) == "question" and DRAWN.intersection(node.key_path):
            continue  # figures of an exercise, which are true of nothing
        for figure in figures(node.text):
            fix = IN_OVERLAY if kind_of(node.document.place) in HOST_WORDS else IN_CONTENT
            yield node.problem(f"'{figure}' stands here.", EXPECTED, fix)
    for file, text in project.python.items():
        nodes = nodes_of(text) if file != COMMAND_LINE else None
        if nodes is not None:
            yield from _in_python(file, nodes)


def _in_python(file: str, nodes: Nodes) -> Iterator[Problem]:
    kept = {
        (part.lineno, part.col_offset + 1)
        for call in calls(nodes, "Cite")
        for part in ast.walk(call)
        if isinstance(part, ast.Constant)
    }
    for found in texts(nodes):
        if (found.line, found.column) in kept:
            continue  # "Table 8: an hour is 3600 s" says where in a source
        owner = found.docstring_of
        if owner and owner.startswith("_"):
            continue  # an explanation for programmers; the public ones reach readers
        shown = found.text if owner is None else DOCTEST.sub(_blank, found.text)
        for figure in figures(shown):
            line = found.line + shown[: shown.index(figure)].count("\n")
            yield _problem(file, line, found.column, figure)
    for call in calls(nodes, "Quantity"):
        if (figure := _literal(call)) is not None:
            yield _problem(file, call.lineno, call.col_offset + 1, figure)


def _blank(found: re.Match[str]) -> str:
    """An example in a docstring is arithmetic. Only its line breaks are kept."""
    return "\n" * found.group().count("\n")


def _problem(file: str, line: int, column: int, figure: str) -> Problem:
    return Problem(file, line, column, "", f"'{figure}' stands here.", EXPECTED, IN_CALCS)


def _literal(call: ast.Call) -> str | None:
    """`21 mbar` of `Quantity(21, "mbar")`."""
    values = [part.value for part in call.args if isinstance(part, ast.Constant)]
    if len(values) < 2 or not isinstance(values[0], int | float) or not values[1]:
        return None
    return None if values[0] in HARMLESS else f"{values[0]} {values[1]}"
