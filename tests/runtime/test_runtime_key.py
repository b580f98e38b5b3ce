"""What makes the browser's Python anew, and what does not."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from build_tools.runtime import make_runtime

TOOLS = Path(make_runtime.__file__).parents[1]
CHANGED = {"values": [{"from": "2026-10-01", "value": "1 mbar"}, {"from": "2027-01-01"}]}
BUNDLE = {"edition": "2026-11-25 0000000", "figures": {"a": CHANGED}, "tables": {}}


def imported(name: str) -> set[str]:
    """Modules of build_tools that one of them imports."""
    found: set[str] = set()
    for node in ast.walk(ast.parse((TOOLS / f"{name}.py").read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("build_tools."):
            module = str(node.module).removeprefix("build_tools.").replace(".", "/")
            inner = {f"{module}/{each.name}" for each in node.names}
            found |= {each for each in inner if (TOOLS / f"{each}.py").is_file()} or {module}
    return found


def test_every_tool_that_it_is_made_with_counts_and_no_other():
    # The last two are run in processes of their own, so nothing imports them.
    reached, fresh = (
        set(),
        {f"runtime/{name}" for name in ("make_runtime", "compile_wheels", "strip_docstrings")},
    )
    while fresh:
        reached |= fresh
        fresh = set().union(*map(imported, fresh)) - reached
    assert set(make_runtime.TOOLS) == reached


@pytest.fixture
def project(tmp_path: Path, monkeypatch) -> Path:
    """A copy of the tools' names, so that a test may edit them."""
    for pattern in make_runtime.MAKERS:
        for path in make_runtime.ROOT.glob(pattern):
            copy = tmp_path / path.relative_to(make_runtime.ROOT)
            copy.parent.mkdir(parents=True, exist_ok=True)
            copy.write_bytes(path.read_bytes())
    for name in (
        "build_tools/site/build_site.py",
        "calcs/engine/declarations.py",
        "pyproject.toml",
    ):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("# as it was")
    monkeypatch.setattr(make_runtime, "ROOT", tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("name", "again"),
    [
        ("build_tools/site/build_site.py", False),
        ("build_tools/runtime/wheels.py", True),
        ("build_tools/web/create_snapshot.mjs", True),
        ("calcs/engine/declarations.py", True),
    ],
)
def test_an_edit_makes_it_again_only_where_it_counts(project, name, again):
    before = make_runtime._python_key(BUNDLE)
    with (project / name).open("a", encoding="utf-8") as file:
        file.write("\n# edited")
    assert (make_runtime._python_key(BUNDLE) != before) == again


def test_words_of_a_page_and_another_day_keep_it_until_a_figure_changes():
    made = make_runtime._python_key(BUNDLE)
    assert make_runtime._python_key({**BUNDLE, "edition": "2026-11-25 1111111"}) == made
    assert make_runtime._python_key({**BUNDLE, "edition": "2026-11-26 0000000"}) == made
    assert make_runtime._python_key({**BUNDLE, "edition": "2027-01-01 0000000"}) != made


def test_other_figures_and_words_make_it_again():
    assert make_runtime._python_key(BUNDLE) != make_runtime._python_key(
        {**BUNDLE, "figures": {"a": {"values": []}}}
    )
