"""The calculators' command line with a host's layer: its paper, and a verdict by its table."""

from __future__ import annotations

import subprocess
from pathlib import Path
from typing import Any

import pytest

from build_tools.for_hosts import command_line
from build_tools.sources.problems import Problem
from calcs import __main__ as command
from tests.overlay.northmoor_read import as_read_today

TYPED = (  # a fall of 2 mbar, in an installation of 0.010 m³
    *("smell_of_gas=no", "pipework=existing", "appliances=connected", "test_start=20.5 mbar"),
    *("test_end=18.5 mbar", "let_by_start=8 mbar", "let_by_end=8 mbar", "elapsed=2 min"),
    "installation_volume=0.010 m³",
)


@pytest.fixture
def northmoor(tmp_path: Path) -> Path:
    return as_read_today(tmp_path)


@pytest.fixture
def refused(monkeypatch: pytest.MonkeyPatch) -> list[Problem]:
    """What `check` refuses: it is tried elsewhere. The build is asked in this process."""
    told: list[Problem] = []
    monkeypatch.setattr(command_line, "refused", lambda *_: told)

    def run(words: list[str], **_: Any) -> subprocess.CompletedProcess[str]:
        assert words[1:3] == ["-m", "build_tools.for_hosts.command_line"]
        folder, *layers = map(Path, words[3:])
        return subprocess.CompletedProcess(words, command_line.main(folder, layers), "", "")

    monkeypatch.setattr(command.subprocess, "run", run)
    return told


@pytest.mark.usefixtures("refused")
def test_a_paper_of_a_host_is_printed_with_its_edition(
    northmoor: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert command.main(["paper", "week_nine", "--seed", "4", "--overlay", str(northmoor)]) == 0
    told = capsys.readouterr().out
    assert told.startswith("Week 9, pressure and input. Seed 4. Edition ")
    assert "+northmoor-2026-11-20-" in told.partition("\n")[0]
    assert "\n7." in told  # four questions of one topic and three of another
    assert command.main(["practice", "bay_gas_rate", "--overlay", str(northmoor)]) == 0
    assert "meter" in capsys.readouterr().out


@pytest.mark.usefixtures("refused")
def test_a_table_of_a_host_gives_the_verdict(
    northmoor: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """5.5 mbar is what Northmoor's invented table permits up to 0.010 m³."""
    assert command.main(["run", "tightness_test", *TYPED, "--overlay", str(northmoor)]) == 0
    told = capsys.readouterr().out
    assert "5.50" in told
    assert "+northmoor-" in told


def test_an_overlay_that_is_refused_answers_nothing(
    northmoor: Path, refused: list[Problem], capsys: pytest.CaptureFixture[str]
) -> None:
    refused.append(Problem("northmoor/limits/bays.yaml", 3, 1, "", "Looser.", "", "take it out"))
    assert command.main(["paper", "week_nine", "--overlay", str(northmoor)]) == 2
    told = capsys.readouterr().out
    assert "northmoor/limits/bays.yaml:3:1\n    Looser.\n    Fix: take it out." in told
    assert "Week 9" not in told


def test_only_a_clone_has_what_lays_one_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(command, "ROOT", tmp_path)
    assert command.main(["list", "--overlay", str(tmp_path)]) == 2
    assert "only a clone" in capsys.readouterr().err


def test_a_folder_that_is_no_overlay_is_told_of(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert command_line.main(tmp_path, [tmp_path / "nowhere"]) == 1
    assert "holds no overlay.yaml" in capsys.readouterr().out
