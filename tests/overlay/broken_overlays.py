"""The small handbook, overlays over it that are broken, and what their author is told."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from build_tools.sources.problems import Problem, in_order
from build_tools.sources.read_yaml import read_file
from build_tools.sources.rule import check_all
from tests.project_of_texts import from_texts

FOLDER = Path(__file__).parent
DAY = date(2026, 11, 25)
BASE = read_file(FOLDER / "base.yaml", "base.yaml").value
GOOD = read_file(FOLDER / "good.yaml", "good.yaml").value
SETTINGS = "kind: overlay\nname: Northmoor College\nover: {base: 2026-11-20, needs: 1}\n"
CASES = read_file(FOLDER / "broken.yaml", "broken.yaml").value["cases"]


def told(files: dict[str, str]) -> list[Problem]:
    """What `check` says of an overlay with these files."""
    laid = {f"overlays/northmoor/{name}": text for name, text in files.items()}
    problems = check_all(from_texts({**BASE, **laid}, {}, DAY))
    return [each for each in in_order(problems) if each.file.startswith("northmoor/")]
