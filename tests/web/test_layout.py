"""The front end's folders: each says on which thread it runs, and imports only what runs there."""

from __future__ import annotations

import re
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

from build_tools.setup.paths import WEB

SOURCE = WEB / "src"
FILES = sorted(path for path in SOURCE.rglob("*") if path.is_file())
SCRIPTS = [path for path in FILES if path.suffix == ".js"]
SHEETS = sorted((WEB.parent / "theme" / "assets" / "css").glob("*.css"))
PROGRAMS = [*WEB.glob("*.mjs"), *Path(__file__).parent.glob("*.mjs")]
LONGEST = 300  # lines
FOLDERS = sorted(path.name for path in SOURCE.iterdir())
# What a folder may import besides itself. On the page, the rest: `lib` is what they share.
ALONE = {
    "lib": set(),
    "protocol": set(),
    "chart": {"lib"},
    "worker": {"protocol"},
    "service-worker": set(),
    "visit": {"lib", "calculator"},  # the reading of a number with its unit
}
# `import('…')` in a comment is a type: it is gone when the code runs.
IMPORT = re.compile(r"^(?:import|export)\b[^;]*?from '(\.[^']+)'|^import '(\.[^']+)'", re.MULTILINE)


def name_of(path: Path) -> str:
    return path.relative_to(SOURCE).as_posix()


def imported(path: Path) -> set[Path]:
    found = IMPORT.findall(path.read_text(encoding="utf-8"))
    return {(path.parent / (one or other)).resolve() for one, other in found}


def test_no_file_lies_outside_a_folder():
    assert [name_of(path) for path in FILES if path.parent == SOURCE] == []


def test_the_readme_says_of_each_folder_where_it_runs():
    rows = re.findall(
        r"^\| `([\w-]+)/` \|.*\|.*\b(?:page|worker|sides)\b.* \|$", _readme(), re.MULTILINE
    )
    assert sorted(rows) == FOLDERS


def _readme() -> str:
    return (WEB / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("folder", FOLDERS)
def test_a_script_imports_what_runs_on_its_thread(folder: str):
    may = {folder} | ALONE.get(folder, set(FOLDERS) - {"worker", "service-worker", "chart"})
    for path in (path for path in SCRIPTS if path.is_relative_to(SOURCE / folder)):
        assert all(other.exists() for other in imported(path)), path
        assert {other.relative_to(SOURCE).parts[0] for other in imported(path)} <= may, path


def test_no_script_imports_itself_by_way_of_others():
    graph = {name_of(path): {name_of(each) for each in imported(path)} for path in SCRIPTS}
    assert len(list(TopologicalSorter(graph).static_order())) >= len(SCRIPTS)
    assert sum(map(len, graph.values())) > len(SCRIPTS)  # the pattern does find imports


def test_a_file_can_be_read_at_one_sitting():
    lines = {path: path.read_text("utf-8").count("\n") for path in (*SCRIPTS, *SHEETS, *PROGRAMS)}
    assert {path.name: count for path, count in lines.items() if count > LONGEST} == {}
