"""Our own modules that a process has imported, and which of them it must forget after an edit.

Python imports a module once. A process that imports ours before an edit and works after it would
work with what the files said before. So it forgets each module whose file has changed, and each
that imports such a one, however far away. The others keep what they have worked out.

This module imports nothing of ours.
"""

import ast
import importlib
import os
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from importlib.util import cache_from_source
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = ("build_tools", "calcs")
PASSED_OVER = {"node_modules", "__pycache__"}
# A module with one of these finds others by the names of files: it may depend on any of ours.
FINDERS = {"importlib", "pkgutil"}
# What waits for the edit: it works on with what it was.
PROVENANCE = {"build_tools", "build_tools.own_modules", "build_tools.rebuilding"}
FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)
Stamp = tuple[int, int]


@dataclass(frozen=True)
class Sources:
    """The files of ours that Python may import, as they were at one moment.

    Args:
        stamps: Moment of the last change and size of each module's file.
        imports: The modules of ours that each holds once it is imported. Empty: not known.
    """

    stamps: dict[str, Stamp]
    imports: dict[str, frozenset[str]] = field(default_factory=dict)


def look(root: Path = ROOT) -> Sources:
    """Look at the files before any is imported: whatever changes later is noticed."""
    return Sources(_stamps(root))


def with_imports(sources: Sources, until: Callable[[], bool], root: Path = ROOT) -> Sources:
    """The same, having read what each module imports: else a change reaches all of them.

    Args:
        sources: What `look` gave.
        until: Whether to leave it, because a build is asked for.
        root: Folder of the packages.
    """
    files, imports = dict(_files(root)), dict[str, frozenset[str]]()
    for name in files:
        if until():
            return sources
        imports[name] = _imports(name, files)
    return replace(sources, imports=imports)


def forget_changed(before: Sources, root: Path = ROOT) -> set[str]:
    """Forget what a change since then has reached. Give the names of the modules forgotten."""
    files, now = dict(_files(root)), _stamps(root)
    changed = {name for name, stamp in now.items() if before.stamps.get(name) != stamp}
    for name in changed & files.keys():
        # Python compares whole seconds: it would take what it compiled of the file just before.
        Path(cache_from_source(str(files[name]))).unlink(missing_ok=True)
    if now.keys() != before.stamps.keys() or (changed and not before.imports):
        changed = now.keys() | before.stamps.keys()  # a file may have come before another
    reached = {name for name in _reached(changed, before.imports) if name in sys.modules}
    for name in reached - PROVENANCE:
        _forget(name)
    importlib.invalidate_caches()
    return reached - PROVENANCE


def _forget(name: str) -> None:
    """Take a module away, also from its package: `from package import module` looks there first."""
    del sys.modules[name]
    package, _, stem = name.rpartition(".")
    if hasattr(sys.modules.get(package), stem):
        delattr(sys.modules[package], stem)


def _reached(changed: set[str], imports: Mapping[str, frozenset[str]]) -> set[str]:
    """Modules that have changed, and those that import one which is reached."""
    reached, more = set[str](), set(changed)
    while more:
        reached |= more
        more = {name for name, named in imports.items() if named & reached} - reached
    return reached


def _at_import(node: ast.AST) -> Iterator[ast.AST]:
    """What runs when the module is imported. A function looks anew whenever it is called."""
    for inner in ast.iter_child_nodes(node):
        if isinstance(inner, ast.stmt) and not isinstance(inner, FUNCTIONS):
            yield inner
            yield from _at_import(inner)


def _files(root: Path) -> Iterator[tuple[str, Path]]:
    """Each module by its name: `calcs.engine.units`."""
    for package in PACKAGES:
        for folder, folders, names in os.walk(root / package):
            folders[:] = sorted(set(folders) - PASSED_OVER)
            for name in sorted(names):
                if name.endswith(".py"):
                    path = Path(folder, name)
                    parts = path.relative_to(root).with_suffix("").parts
                    yield ".".join(parts).removesuffix(".__init__"), path


def _stamps(root: Path) -> dict[str, Stamp]:
    about = {name: path.stat() for name, path in _files(root)}
    return {name: (each.st_mtime_ns, each.st_size) for name, each in about.items()}


def _imports(module: str, files: dict[str, Path]) -> frozenset[str]:
    try:
        tree = ast.parse(files[module].read_bytes())
    except (OSError, SyntaxError, ValueError):
        return frozenset(files)  # nothing is known of it yet
    named = set[str]()
    for node in _at_import(tree):
        if isinstance(node, ast.Import):
            named |= {each.name for each in node.names}
        elif isinstance(node, ast.ImportFrom):
            named |= {node.module or "", *(f"{node.module}.{each.name}" for each in node.names)}
    if FINDERS & {name.partition(".")[0] for name in named}:
        return frozenset(files)
    return frozenset(named & files.keys())
