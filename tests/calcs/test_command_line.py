"""The calculators at the command line: `python -m calcs`, as a person or a script calls it."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from build_tools.runtime import practice_pack
from build_tools.setup.paths import ROOT
from calcs import __main__ as command
from calcs.engine.registry import all_inputs, calculators
from calcs.practice.exports import forms
from tests.calcs.practice import held
from tests.project import project

RUN = ("run", "gas_rate", "--date", "2026-11-25", "volume=0.1 m³", "elapsed=120 s")
CALORIFIC = "calorific_value_gross=36 MJ/m³"


@pytest.fixture(autouse=True)
def bundle_at_hand(tmp_path, monkeypatch, bundle_text):
    path = tmp_path / "bundle.json"
    path.write_text(bundle_text, encoding="utf-8")
    monkeypatch.setattr(command, "BUNDLE", path)


def test_an_answer_comes_with_its_working_and_status_0(capsys):
    assert command.main([*RUN, CALORIFIC]) == 0
    said = capsys.readouterr().out.replace("\N{NO-BREAK SPACE}", " ")
    # By hand: 0.74 from meter and watch, and a value written as 36 may be 0.5 off, a rectangle:
    # 30 × 2 × 0.5 ÷ √3 ÷ 36 is 0.48; both in quadrature are 0.88.
    assert "Heat input, gross: 30.00 kW ± 0.88" in said
    assert "Gas used ÷ Time taken = 0.1 m³ ÷ 120 s = 3.000 m³/h" in said
    assert "not a certificate" in said


def test_json_is_the_answer_in_the_one_shape(capsys):
    assert command.main([*RUN, CALORIFIC, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert set(answer) >= {
        "calculator", "edition", "inputs", "answers", "verdicts", "working", "cautions", "sources",
    }  # fmt: skip
    values = {one["name"]: one["value"] for one in answer["answers"]}
    assert values["heat_input_gross"] == pytest.approx(30)


def test_every_refusal_is_told_at_once_with_status_2(capsys):
    assert command.main(["run", "gas_rate", "volume=500 m³", "elapsed=soon"]) == 2
    told = capsys.readouterr().err
    assert (
        "volume: got 500 m³, expected 0.0001 to 100 m**3. Check the reading and its unit." in told
    )
    assert "elapsed: must be a number. You entered “soon”." in told


def test_a_refusal_as_json(capsys):
    assert command.main(["run", "gas_rate", "volume=500 m³", "elapsed=60 s", "--json"]) == 2
    (refusal,) = json.loads(capsys.readouterr().out)["refused"]
    assert (refusal["field"], refusal["kind"]) == ("volume", "out_of_range")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["run", "gas_rat"], "gas_rate"),
        (["show", "nothing_of_ours"], "nothing_of_ours"),
        (["run", "gas_rate", "0.1 m³"], 'expected name="value unit"'),
        (["run", "gas_rate", "--date", "soon"], "--date: got 'soon'"),
    ],
)
def test_what_cannot_be_asked_is_said_with_status_2(capsys, words, says):
    assert command.main(words) == 2
    assert says in capsys.readouterr().err


def test_a_figure_from_the_readers_own_copy_is_used_and_named(capsys):
    overrides = ["--overrides", "gas.natural_gas.gross_to_net=1.2"]
    assert command.main([*RUN, CALORIFIC, *overrides, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    values = {one["name"]: one["value"] for one in answer["answers"]}
    assert values["heat_input_net"] == pytest.approx(25)
    assert "typed-by-reader" in {source["provenance"] for source in answer["sources"]}


@pytest.mark.parametrize("name", sorted(calculators()))
def test_every_calculator_is_shown(capsys, name):
    assert command.main(["show", name]) == 0
    told = capsys.readouterr().out
    for item in (*all_inputs(calculators()[name]), *calculators()[name].outputs):
        assert f"  {item.name} " in told


def test_the_columns_of_a_table_are_shown_under_it(capsys):
    assert command.main(["show", "pipe_pressure_loss"]) == 0
    told = capsys.readouterr().out
    assert (
        'sections                              1 to 60 rows such as [{"length": "…"}], of' in told
    )
    assert (
        "      size                                  4 to 400 mm  when material is copper or steel"
        in told
    )
    assert command.main(["run", "pipe_size", 'sections=[{"length": "6 m", "load": "24 kW"}]']) == 0


def test_list_and_show(capsys):
    assert command.main(["list"]) == 0
    assert "burner_pressure" in capsys.readouterr().out
    assert command.main(["show", "gas_rate", "--json"]) == 0
    shown = json.loads(capsys.readouterr().out)
    assert shown["id"] == "gas_rate"
    assert {"volume", "elapsed"} <= {item["name"] for item in shown["inputs"]}


def test_a_changed_figure_is_read_again_before_an_answer(tmp_path, monkeypatch):
    """In a clone the bundle is written anew when a source is newer than it."""
    stale = tmp_path / "none" / "bundle.json"
    monkeypatch.setattr(command, "BUNDLE", stale)
    asked = []
    monkeypatch.setattr(
        command.subprocess,
        "run",
        lambda words, **_: asked.append(words) or subprocess.CompletedProcess(words, 0, "", ""),
    )
    assert command.main(["list"]) == 2
    assert len(asked) == 1


def test_as_a_program():
    words = [sys.executable, "-m", "calcs", *RUN, CALORIFIC, "--json"]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["calculator"] == "gas_rate"


def test_a_paper_is_written_for_a_platform(tmp_path, monkeypatch, bundle_text, capsys):
    made = practice_pack.make(project(), practice_pack.day_of(json.loads(bundle_text)))
    questions = tmp_path / "practice.json"
    questions.write_text(json.dumps(made), encoding="utf-8")
    monkeypatch.setattr(command, "QUESTIONS", questions)
    file = tmp_path / "paper.xml"
    asked = ["paper", "safety_first", "--seed", "Northmoor-9", "--as"]
    assert command.main([*asked, "moodle", str(file)]) == 0
    paper = forms.drawn(
        made["papers"]["safety_first"],
        "northmoor-9",
        json.loads(bundle_text)["edition"],
        held.pack(),
    )
    assert file.read_bytes() == forms.FORMS["moodle"][1](paper)
    assert command.main([*asked, "paper", str(file)]) == 2
    assert "--as: There is no form 'paper': moodle, " in capsys.readouterr().err
