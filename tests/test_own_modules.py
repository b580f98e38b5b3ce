"""A process that imported our modules before an edit works after it with what their files say."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path

import pytest

from build_tools import own_modules

FILES = {
    "__init__": "",
    "units": "UNIT = 'mbar'",
    "formula": "from calcs_of_test.units import UNIT\nSUM = '1 ' + UNIT",
    "words": "WORDS = 'none'",
    "finder": "import importlib\nFOUND = 'all'",
    "late": "def unit():\n    from calcs_of_test.units import UNIT\n    return UNIT",
    "asks": "from calcs_of_test import formula\nANSWER = formula.SUM",
}


@pytest.fixture
def root(tmp_path: Path, monkeypatch) -> Path:
    """A package of a few modules, of which none is imported yet."""
    (tmp_path / "calcs_of_test").mkdir()
    for name, text in FILES.items():
        write(tmp_path, name, text)
    monkeypatch.setattr(own_modules, "PACKAGES", ("calcs_of_test",))
    monkeypatch.syspath_prepend(str(tmp_path))
    yield tmp_path
    for name in [each for each in sys.modules if each.startswith("calcs_of_test")]:
        del sys.modules[name]


def never() -> bool:
    return False


def write(root: Path, name: str, text: str) -> None:
    (root / "calcs_of_test" / f"{name}.py").write_text(text, encoding="utf-8")


def imported(name: str):
    return importlib.import_module(f"calcs_of_test.{name}")


def looked(root: Path) -> own_modules.Sources:
    """As a process looks that then imports everything."""
    sources = own_modules.with_imports(own_modules.look(root), never, root)
    for name in set(FILES) - {"__init__"}:
        imported(name)
    return sources


def test_a_change_reaches_what_imports_it_and_what_finds_modules_by_name(root):
    sources = looked(root)
    write(root, "units", "UNIT = 'inWG'")
    gone = own_modules.forget_changed(sources, root)
    stems = {name.rpartition(".")[2] for name in gone}
    assert stems == {"units", "formula", "asks", "finder"}
    assert imported("asks").ANSWER == "1 inWG"


def test_a_function_that_imports_when_it_is_called_finds_the_new_one(root):
    sources = looked(root)
    assert imported("late").unit() == "mbar"
    write(root, "units", "UNIT = 'inWG'")
    assert "calcs_of_test.late" not in own_modules.forget_changed(sources, root)
    assert imported("late").unit() == "inWG"


def test_a_package_does_not_hand_out_the_old_module(root):
    sources = looked(root)
    package = imported("words") and sys.modules["calcs_of_test"]
    write(root, "words", "WORDS = 'some'")
    own_modules.forget_changed(sources, root)
    assert not hasattr(package, "words")


def test_nothing_is_forgotten_while_nothing_changes(root):
    assert own_modules.forget_changed(looked(root), root) == set()


def test_a_file_that_comes_or_goes_reaches_all(root):
    for change in (lambda: write(root, "new", ""), (root / "calcs_of_test" / "new.py").unlink):
        sources = looked(root)
        change()
        assert len(own_modules.forget_changed(sources, root)) == len(FILES)


def test_a_change_reaches_all_where_nobody_had_time_to_read_who_imports_whom(root):
    looked(root)
    sources = own_modules.with_imports(own_modules.look(root), lambda: True, root)
    write(root, "words", "WORDS = 'some'")
    assert len(own_modules.forget_changed(sources, root)) == len(FILES)


def test_a_module_that_python_can_not_read_may_import_anything(root):
    write(root, "words", "def (")
    sources = own_modules.with_imports(own_modules.look(root), never, root)
    imported("units")
    write(root, "units", "UNIT = 'inWG'")
    assert "calcs_of_test.units" in own_modules.forget_changed(sources, root)
    assert sources.imports["calcs_of_test.words"] == sources.imports["calcs_of_test.finder"]


@pytest.mark.parametrize("name", ["once", "shapes", "pages.render", "pages.running_words"])
def test_a_formula_s_edit_leaves_what_no_formula_reaches(name):
    """Else every page would be made anew: the reason why modules are told apart."""
    sources = own_modules.with_imports(own_modules.look(), never)
    formula = {"calcs.calculators.gas_rate"}
    reached = own_modules._reached(formula, sources.imports)
    assert f"build_tools.{name}" not in reached
    assert {"calcs.engine.registry", "calcs.bridge", "build_tools.pages.calculator"} <= reached
