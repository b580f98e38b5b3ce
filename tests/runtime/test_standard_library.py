"""What is left out of the browser's standard library is there to leave out, and the rest stays."""

from __future__ import annotations

import ast
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from build_tools.runtime import wheels
from build_tools.runtime.make_runtime import LIBRARY
from build_tools.runtime.standard_library import (
    ENCODINGS,
    ENCODINGS_KEPT,
    LEFT_OUT,
    is_kept,
    leave_out,
)
from build_tools.setup.paths import ROOT, WEB

WHOLE = WEB / "node_modules" / "pyodide" / LIBRARY
# What Python and its loader ask for by name, in C or as they start; none of it is in a source.
ASKED_FOR_IN_C = (
    *("encodings", "encodings.aliases", "encodings.utf_8", "encodings.latin_1", "encodings.ascii"),
    *("encodings.idna", "encodings.cp437", "site", "io", "_strptime", "_pylong", "datetime"),
    *("decimal", "traceback", "threading", "warnings", "zipimport"),
)
# Imported where the same in C is missing.
NEVER_RUN = {"_pydatetime", "_pyio"}
# For tests and command lines: of ours and of others, what no calculator loads.
NOT_LOADED = ("command_line/", "__main__.py", "/testsuite/", "/pint_convert.py", "/testing.py")


def contents(library: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(library) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def test_what_is_left_out_is_there_and_the_rest_is_as_it_was(tmp_path: Path):
    cut = Path(shutil.copy(WHOLE, tmp_path))
    leave_out(cut)
    whole, kept = contents(WHOLE), contents(cut)
    everywhere = {"/".join(steps) for name in whole for steps in beginnings(name)}
    assert everywhere >= LEFT_OUT
    assert {f"{ENCODINGS}{name}.py" for name in ENCODINGS_KEPT} <= kept.keys()
    assert not {name for name in kept if not is_kept(name)}
    assert kept == {name: whole[name] for name in kept}
    assert cut.stat().st_size < 0.5 * WHOLE.stat().st_size


def test_whatever_calcs_pint_and_the_loader_import_is_kept():
    library = modules(contents(WHOLE))
    theirs = {}
    for each in wheels.fetched():
        theirs |= modules(contents(each))
    ours = modules(
        {
            each.relative_to(ROOT).as_posix(): each.read_bytes()
            for each in ROOT.glob("calcs/**/*.py")
        }
    )
    loader = {name for name in library if name.split(".")[0] in {"pyodide", "_pyodide"}}
    fresh = {name for name in (*loader, *ASKED_FOR_IN_C) if is_kept(library[name][0])}
    # Of ours, also what a formula imports as it runs.
    fresh |= {name for place, text in ours.values() for name in imports(place, text, deep=True)}
    fresh |= {name for place, text in theirs.values() for name in imports(place, text)}
    reached: set[str] = set()
    while fresh:
        reached |= fresh
        found = {other for name in fresh & library.keys() for other in imports(*library[name])}
        fresh = found - reached - NEVER_RUN
    asked = reached & library.keys()
    assert len(asked) > 150  # it does follow them: the ordinary start has about as many
    assert {name for name in asked if not is_kept(library[name][0])} == set()


def beginnings(name: str) -> Iterator[list[str]]:
    steps = name.rstrip("/").split("/")
    yield from (steps[:end] for end in range(1, len(steps) + 1))


def modules(files: dict[str, bytes]) -> dict[str, tuple[str, bytes]]:
    """Each module by its name, with its place and its source."""
    return {
        ".".join(PurePosixPath(place).with_suffix("").parts).removesuffix(".__init__"): (
            place,
            text,
        )
        for place, text in files.items()
        if place.endswith(".py") and not any(part in place for part in NOT_LOADED)
    }


def imports(place: str, text: bytes, *, deep: bool = False) -> set[str]:
    """What a module may import as it is loaded; with `deep`, what its functions import as well."""
    steps = PurePosixPath(place).with_suffix("").parts
    found: set[str] = set()
    todo: list[ast.AST] = [ast.parse(text)]
    while todo:
        for node in ast.iter_child_nodes(todo.pop()):
            if isinstance(node, ast.Import):
                found |= {each.name for each in node.names}
            elif isinstance(node, ast.ImportFrom):
                module = ".".join(
                    [*(steps[: -node.level] if node.level else ()), *filter(None, [node.module])]
                )
                found |= {module, *(f"{module}.{each.name}" for each in node.names)}
            elif deep or not (is_function(node) or for_another_reader(node)):
                todo.append(node)
    return {".".join(steps) for name in found for steps in beginnings(name.replace(".", "/"))}


def is_function(node: ast.AST) -> bool:
    return isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)


def for_another_reader(node: ast.AST) -> bool:
    """Whether it is read by tools that check types, or runs as a program of its own."""
    return isinstance(node, ast.If) and any(
        words in ast.unparse(node.test) for words in ("TYPE_CHECKING", "__name__ ==")
    )
