"""The command `new`: whole files with the right names, and nothing of anyone's overwritten."""

import doctest
import importlib.util
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from build_tools.setup.paths import ROOT
from build_tools.site.trial import tried
from build_tools.sources import new
from build_tools.sources.read_yaml import read_file, read_text
from build_tools.sources.rule import check_all
from tests.project import project, supposed

PROJECT = project()
CALCULATOR = [
    "calcs/calculators/hose_flow.py",
    "content/calculators/hose_flow.yaml",
    "tests/tables/hose_flow.yaml",
]


@pytest.fixture
def made(tmp_path: Path) -> Path:
    """A folder with a new calculator and a new procedure of one stem."""
    assert new.write(["calculator", "hose_flow"], tmp_path) == CALCULATOR
    procedure = new.write(["procedure", "hose_flow"], tmp_path)
    assert procedure == ["content/procedures/hose_flow.yaml"]
    return tmp_path


def test_the_formula_works_from_the_first_minute(made: Path):
    spec = importlib.util.spec_from_file_location("hose_flow", made / CALCULATOR[0])
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    assert module.CALCULATOR.id == "hose_flow"
    tried = doctest.testmod(module)
    assert (tried.attempted, tried.failed) == (3, 0)


def test_the_formula_keeps_the_house_style(made: Path):
    file = str(made / CALCULATOR[0])
    settings = ["--no-cache", "--config", str(ROOT / "pyproject.toml"), "--stdin-filename"]
    text = Path(file).read_text(encoding="utf-8")
    for words in (["check"], ["format", "--check"]):
        command = [sys.executable, "-m", "ruff", *words, *settings, CALCULATOR[0], "-"]
        tool = subprocess.run(
            command, cwd=ROOT, input=text, capture_output=True, text=True, check=False
        )
        assert tool.returncode == 0, tool.stdout + tool.stderr


def test_the_words_can_be_read_and_name_the_sections(made: Path):
    for name in ("content/calculators/hose_flow.yaml", "content/procedures/hose_flow.yaml"):
        document = read_file(made / name, name)
        assert document.problems == []
        assert document.value["title"] == "Hose flow"
        assert "pressure_and_input" in (made / name).read_text(encoding="utf-8")


def test_what_is_begun_passes_check_as_it_stands(tmp_path: Path):
    """Every rule, every page and every question, with the new files among this project's own."""
    documents = dict(PROJECT.documents)
    for kind in ("procedure", "page", "question", "paper"):
        (name,) = new.write([kind, "hose_flow"], tmp_path)
        text = (tmp_path / name).read_text("utf-8")
        assert text.startswith("# ")
        assert name in new.report(kind, "hose_flow", [name])
        documents[name] = read_text(text, name)
    begun = replace(PROJECT, documents=documents)
    assert tried(begun, check_all(begun, supposed())) == []


def test_nothing_is_overwritten(made: Path):
    mine = made / CALCULATOR[1]
    mine.write_text("mine")
    (made / CALCULATOR[0]).unlink()
    with pytest.raises(new.NotWrittenError, match=r"content/calculators/hose_flow\.yaml, .*there"):
        new.write(["calculator", "hose_flow"], made)
    assert mine.read_text() == "mine"
    assert not (made / CALCULATOR[0]).exists()


@pytest.mark.parametrize(
    ("stem", "near"),
    [
        ("Gas-Rate", "gas_rate"),
        ("gasRate", "gas_rate"),
        ("2nd_check", "nd_check"),
        ("../escape", "escape"),
        ("gas__rate", "gas_rate"),
        ("class", "class_calculator"),
        ("é", "my_calculator"),
    ],
)
def test_a_stem_that_is_none_is_refused_with_one_that_would_do(
    tmp_path: Path, stem: str, near: str
):
    with pytest.raises(new.NotWrittenError, match=f"Fix: use '{near}'"):
        new.write(["calculator", stem], tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_misspelt_kind_is_told_the_nearest(tmp_path: Path):
    with pytest.raises(new.NotWrittenError, match="Did you mean 'procedure'"):
        new.write(["procedur", "purge"], tmp_path)


def test_no_words_at_all_tell_the_use(
    capsys: pytest.CaptureFixture[str],
):
    assert new.main([]) == 2
    assert "new calculator|procedure|page|question|paper STEM" in capsys.readouterr().err


def test_a_host_begins_its_own_in_its_overlay(tmp_path: Path):
    (tmp_path / "overlay.yaml").write_text("kind: overlay\n", encoding="utf-8")
    made = {
        "procedure": "pages/procedures/bay_four.yaml",
        "page": "pages/reference/bay_four.yaml",
        "question": "questions/bay_four.yaml",
        "paper": "papers/bay_four.yaml",
    }
    for kind, name in made.items():
        assert new.into_overlay([kind, "bay_four"], tmp_path) == [name]
        assert read_file(tmp_path / name, name).problems == []
    asked = (tmp_path / "questions/bay_four.yaml").read_text("utf-8").splitlines()[-1]
    folder = f"--overlay PATH/TO/{tmp_path.name}"  # how it is asked for is the host's own way
    assert asked == f"# Try it: .venv/bin/python -m calcs practice bay_four --seed 7 {folder}"
    with pytest.raises(new.NotWrittenError, match="holds no calculator"):
        new.into_overlay(["calculator", "bay_four"], tmp_path)
    with pytest.raises(new.NotWrittenError, match=r"holds no overlay\.yaml"):
        new.into_overlay(["page", "bay_four"], tmp_path / "nowhere")
