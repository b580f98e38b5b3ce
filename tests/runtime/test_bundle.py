"""The bundle: the same source gives the same text, and a changed source another edition."""

import json
import shutil
import time
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from build_tools.runtime import bundle
from build_tools.runtime.cache import UNFINISHED
from build_tools.setup.paths import ROOT
from build_tools.sources import days
from build_tools.sources.edition import edition
from build_tools.sources.problems import ProblemsFound

# Another test may be writing its bundle into the tree at this moment.
LEFT_OUT = shutil.ignore_patterns("__pycache__", f"{UNFINISHED}*")
DAY = date(2026, 11, 25)
HISTORY = [
    {"from": "2012-01-01", "until": "2026-09-30", "value": "old"},
    {"from": "2026-10-01", "value": "new"},
]


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """The project's data, words and formulas in a folder of their own."""
    for name in ("data", "content", "calcs"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=LEFT_OUT)
    return tmp_path


@pytest.fixture(scope="module")
def made() -> dict[str, Any]:
    """The bundle of the project as it is."""
    return bundle.make(DAY, ROOT)


def test_the_same_source_gives_the_same_bytes(copy: Path) -> None:
    first = bundle.write(DAY, copy).read_bytes()
    assert bundle.write(DAY, copy).read_bytes() == first


def test_the_edition_is_the_day_and_the_content(copy: Path, made: dict[str, Any]) -> None:
    assert made["edition"] == edition(DAY, copy)
    day, _, content = made["edition"].partition(" ")
    assert day == "2026-11-25"
    assert len(content) == 7


@pytest.mark.parametrize(
    "file", ["data/sources.yaml", "content/_words.yaml", "calcs/calculators/gas_rate.py"]
)
def test_a_change_anywhere_is_another_edition(copy: Path, file: str) -> None:
    before = edition(DAY, copy)
    with (copy / file).open("a", encoding="utf-8") as changed:
        changed.write("\n# A comment.\n")
    assert edition(DAY, copy) != before


def test_line_ends_are_not_a_change(copy: Path) -> None:
    before = edition(DAY, copy)
    path = copy / "data" / "sources.yaml"
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert edition(DAY, copy) == before


def test_the_build_day_can_be_set_from_outside(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1790812800")  # 2026-10-01 00:00 UTC
    assert days.build_day() == date(2026, 10, 1)


def test_a_file_that_lacks_its_shape_is_reported_and_not_bundled(copy: Path) -> None:
    (copy / "data" / "limits" / "flue.yaml").write_text("flue.draught: 3 Pa\n", encoding="utf-8")
    with pytest.raises(ProblemsFound, match=r"data/limits/flue\.yaml:1:15  flue\.draught"):
        bundle.make(DAY, copy)


def test_it_is_plain_json_of_text(made: dict[str, Any]) -> None:
    assert json.loads(json.dumps(made)) == made


def test_a_value_carries_the_title_of_its_source(made: dict[str, Any]) -> None:
    dated_value = made["figures"]["billing.volume_correction"]["values"][0]
    assert dated_value["value"] == "1.02264"
    assert dated_value["source"]["title"] == "Gas (Calculation of Thermal Energy) Regulations 1996"


def test_a_calculator_gets_the_shared_words_it_lacks(made: dict[str, Any]) -> None:
    words: dict[str, Any] = made["words"]["gas_rate"]["inputs"]
    assert words["test_date"]["label"]
    assert words["volume"]["label"] == "Gas used"


@pytest.mark.parametrize(
    ("day", "value"),
    [
        (date(2011, 12, 31), None),
        (date(2012, 1, 1), "old"),
        (date(2026, 9, 30), "old"),
        (date(2026, 10, 1), "new"),
        (date(2099, 1, 1), "new"),
    ],
)
def test_the_entry_in_force_goes_by_the_day(day: date, value: str | None) -> None:
    dated_value = days.in_force(HISTORY, day)
    assert (dated_value or {}).get("value") == value


def _dated(*values: tuple[str, str | None]) -> dict:
    return {"values": [{"from": start, "until": end, "value": "1 mbar"} for start, end in values]}


@pytest.mark.parametrize(
    ("day", "found"),
    [
        ("2026-11-28", "2026-10-01"),  # the day after an end counts, and what is undated does not
        ("2026-10-01", "2026-10-01"),
        ("2026-09-30", "2026-03-01"),
        ("2028-01-01", "2027-01-01"),
        ("2020-01-01", "2020-01-01"),  # before all that is held
    ],
)
def test_examples_go_by_the_last_day_on_which_a_figure_changed(day: str, found: str):
    held = {
        "figures": {"a": _dated(("undated", None)), "b": _dated(("2026-03-01", "2026-09-30"))},
        "tables": {"c": _dated(("2027-01-01", None))},
    }
    assert days.example_day(held, date.fromisoformat(day)) == date.fromisoformat(found)


def test_the_day_of_the_build_is_the_same_everywhere(monkeypatch):
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    found = set()
    for zone in ("Pacific/Kiritimati", "Pacific/Pago_Pago"):  # a whole day apart
        monkeypatch.setenv("TZ", zone)
        time.tzset()
        found.add(days.build_day())
    monkeypatch.undo()
    time.tzset()
    assert len(found) == 1
