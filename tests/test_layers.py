"""The arrows between the parts: words and numbers -> machinery -> formulas, and never back.

What a formula may import and call is the rule `formula-closed`.
"""

import ast
import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from build_tools.setup.paths import ROOT
from tests.import_statements import import_statements


def ours() -> Iterator[Path]:
    """Files of the machinery, without the front end's packages, which are many thousands."""
    for folder, inside, names in os.walk(ROOT / "build_tools"):
        inside[:] = sorted({*inside} - {"node_modules", "__pycache__"})
        yield from (Path(folder, name) for name in names)


OURS = sorted(ours())
COMMAND_LINE = ROOT / "calcs" / "__main__.py"  # the one file of calcs that may read and print
CALCS = sorted(set((ROOT / "calcs").rglob("*.py")) - {COMMAND_LINE})
MACHINERY = [path for path in OURS if path.suffix == ".py"]
# What each part of calcs may import of calcs. Two doors are on top; nothing imports them.
BELOW = {
    "engine": {"engine"},
    "domain": {"engine", "domain"},
    "charts": {"engine", "domain", "charts"},
    "calculators": {"engine", "domain", "charts", "calculators"},
    "command_line": {"engine", "command_line"},
    "practice": {"engine", "practice"},  # it asks the calculators through the bridge
}
# What each room of build_tools may import of build_tools. Two doors are on top here too.
ROOMS = {
    "setup": {"commands"},
    "sources": {"setup"},
    "diagrams": {"sources"},
    "runtime": {"setup", "sources"},
    "pages": {"setup", "sources", "diagrams", "runtime"},
    "site": {"setup", "sources", "runtime", "pages"},
    "serve": {"setup", "sources", "site"},
    "bench": {"setup", "sources", "runtime", "site"},
    "for_hosts": {"setup", "sources", "runtime", "site", "bench"},
}
COMMANDS = {"build_tools/start.py", "build_tools/__main__.py", "build_tools/commands.py"}
DOORS = {"calcs/__init__.py", "calcs/__main__.py", "calcs/bridge.py"}
# Rooms of tests that no room of the code has: words, numbers, proofs as YAML, and what is tried in
# a real browser, with and without a network.
OTHER_PROOF = {
    *("content", "data", "tables", "steps", "broken", "browser", "offline", "overlay", "web"),
}
# The engine must find the calculators somewhere: here, by their file names and no other way.
FINDER = "calcs.engine.registry"


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def imports(path: Path) -> set[str]:
    """Top names of the packages that a file imports, wherever in it the import stands."""
    found = set()
    for node in import_statements(path):
        if isinstance(node, ast.Import):
            found.update(alias.name.split(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{name_of(path)} imports by dots: write the whole name"
            found.add(str(node.module).split(".")[0])
    return found


def module_of(path: Path) -> str:
    return name_of(path).removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def arrows(paths: list[Path]) -> dict[str, set[str]]:
    """Which of these modules each of them imports, wherever in it the import stands."""
    names = {module_of(path) for path in paths}
    found = {}
    for path in paths:
        wanted: set[str] = set()
        for node in import_statements(path):
            if isinstance(node, ast.Import):
                wanted.update(alias.name for alias in node.names)
            elif isinstance(node, ast.ImportFrom):
                each = {f"{node.module}.{alias.name}" for alias in node.names}
                wanted.update(each & names or {str(node.module)})
        found[module_of(path)] = wanted & names
    return found


def circle(graph: dict[str, set[str]]) -> list[str]:
    """The modules of one circle, in order; nothing where there is none."""
    done: set[str] = set()

    def walk(name: str, way: list[str]) -> list[str]:
        if name in way:
            return [*way[way.index(name) :], name]
        if name in done:
            return []
        for other in sorted(graph[name]):
            if found := walk(other, [*way, name]):
                return found
        done.add(name)
        return []

    return next((found for name in sorted(graph) if (found := walk(name, []))), [])


def test_a_circle_is_found_where_there_is_one() -> None:
    assert circle({"a": {"b"}, "b": {"c"}, "c": {"b"}, "d": set()}) == ["b", "c", "b"]
    assert circle({"a": {"b", "c"}, "b": {"c"}, "c": set()}) == []


def test_no_modules_import_each_other_in_a_circle() -> None:
    assert circle(arrows([*CALCS, COMMAND_LINE, *MACHINERY])) == []


def test_each_room_of_the_machinery_imports_only_what_is_below_it() -> None:
    graph = arrows([path for path in MACHINERY if "web" not in path.parts])
    parts = {name: name.split(".")[1] for name in graph if name.count(".") > 1}
    assert set(parts.values()) == set(ROOMS)
    wrong = [
        f"{name} imports {other}"
        for name, part in parts.items()
        for other in graph[name]
        if other.split(".")[1] not in {part, *ROOMS[part]}
    ]
    assert wrong == []


def test_only_the_commands_lie_outside_the_rooms_of_the_machinery() -> None:
    loose = {name_of(path) for path in (ROOT / "build_tools").glob("*.*") if path.is_file()}
    assert loose == {*COMMANDS, "build_tools/__init__.py"}


def test_each_part_of_calcs_imports_only_what_is_below_it() -> None:
    graph = arrows([*CALCS, COMMAND_LINE])
    parts = {name: name.split(".")[1] for name in graph if name.count(".") > 1}
    assert set(parts.values()) == set(BELOW)
    wrong = [
        f"{name} imports {other}"
        for name, part in parts.items()
        for other in graph[name]
        if other.split(".")[1:2] and other.split(".")[1] not in BELOW[part]
    ]
    assert wrong == [f"{FINDER} imports calcs.calculators"]


def test_only_the_doors_of_calcs_lie_outside_its_rooms() -> None:
    assert {name_of(path) for path in (ROOT / "calcs").glob("*.py")} == DOORS


@pytest.mark.parametrize(
    "path", [path for path in (*CALCS, *MACHINERY) if path.name == "__init__.py"], ids=name_of
)
def test_the_name_of_a_room_holds_its_description_alone(path: Path) -> None:
    """Logic there would run for whoever imports a neighbour, and be imported by its children."""
    (only,) = ast.parse(path.read_text(encoding="utf-8")).body
    assert isinstance(only, ast.Expr)
    assert isinstance(only.value, ast.Constant)


def test_the_command_line_of_calcs_needs_no_other_package() -> None:
    assert imports(COMMAND_LINE) <= set(sys.stdlib_module_names) | {"calcs"}


def test_only_the_binding_imports_mkdocs_and_its_theme() -> None:
    importing = [name_of(path) for path in MACHINERY if imports(path) & {"mkdocs", "material"}]
    assert importing == ["build_tools/site/mkdocs_binding.py", "build_tools/site/theme_files.py"]


def test_only_the_strict_reader_reads_yaml() -> None:
    importing = [name_of(path) for path in MACHINERY if imports(path) & {"yaml", "ruamel"}]
    assert importing == ["build_tools/sources/read_yaml.py"]


def test_the_machinery_does_not_lean_on_the_tests() -> None:
    assert [name_of(path) for path in MACHINERY if "tests" in imports(path)] == []


def test_the_tests_have_the_rooms_of_what_they_test() -> None:
    rooms = {
        path.parent.relative_to(ROOT / "tests") for path in (ROOT / "tests").rglob("test_*.py")
    }
    of_trade = {f"calcs/domain/{path.parent.name}" for path in CALCS if "domain" in path.parts}
    of_code = {"calcs", *(f"calcs/{part}" for part in BELOW), *of_trade, *ROOMS}
    assert {room.as_posix() for room in rooms} - {"."} <= of_code | OTHER_PROOF


def test_only_the_house_itself_is_tested_outside_a_room() -> None:
    loose = {path.name for path in (ROOT / "tests").glob("test_*.py")}
    assert loose == {"test_guide.py", "test_layers.py", "test_lint.py"}


def test_no_test_file_is_imported_by_another() -> None:
    """What two of them share stands in a file beside them, which tests nothing itself."""
    graph = arrows(sorted((ROOT / "tests").rglob("*.py")))
    wrong = [
        f"{name} imports {other}"
        for name in sorted(graph)
        for other in sorted(graph[name])
        if other.rpartition(".")[2].startswith("test_")
    ]
    assert wrong == []


@pytest.mark.parametrize("folder", ["data", "content"])
def test_data_and_content_hold_nothing_that_runs(folder: str) -> None:
    others = [name_of(path) for path in (ROOT / folder).rglob("*") if path.is_file()]
    assert [name for name in others if not name.endswith(".yaml")] == []


def test_the_browser_knows_calcs_by_its_bridge_alone() -> None:
    web = [path for path in OURS if "web" in path.parts]
    sources = [path for path in web if path.suffix in {".js", ".mjs", ".ts"}]
    assert sources
    for path in sources:
        text = path.read_text(encoding="utf-8")
        for part in text.split("calcs.")[1:]:
            assert part.startswith("bridge") or not part[:1].isalpha(), name_of(path)
