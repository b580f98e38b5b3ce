"""What is remembered from one build to the next is what would be worked out again."""

from __future__ import annotations

from pathlib import Path

import pytest

from build_tools.remembered import Work, remembering


class Shout:
    """Some work, and how often it was done."""

    def __init__(self) -> None:
        self.texts: list[str] = []

    def __call__(self, text: str) -> str:
        self.texts.append(text)
        return text.upper()


@pytest.fixture
def maker(tmp_path: Path) -> Path:
    path = tmp_path / "shout.py"
    path.write_text("version 1")
    return path


def build(work: Work, maker: Path, *texts: str) -> list[str]:
    with remembering(work, str(maker), maker.parent / "kept") as done:
        return [done(text) for text in texts]


def test_a_text_that_did_not_change_costs_nothing(maker):
    work = Shout()
    assert build(work, maker, "gas", "air") == ["GAS", "AIR"]
    assert build(work, maker, "gas", "flue") == ["GAS", "FLUE"]
    assert work.texts == ["gas", "air", "flue"]
    assert build(work, maker, "oil", "gas", "oil") == ["OIL", "GAS", "OIL"]
    assert work.texts == ["gas", "air", "flue", "oil"]


def test_what_a_build_did_not_ask_for_is_dropped(maker):
    work = Shout()
    for texts in (["gas", "air"], ["gas"], ["air"]):
        build(work, maker, *texts)
    assert work.texts == ["gas", "air", "air"]


def test_other_work_is_done_again(maker):
    work = Shout()
    build(work, maker, "gas")
    maker.write_text("version 2")
    build(work, maker, "gas")
    assert work.texts == ["gas", "gas"]


@pytest.mark.parametrize("spoilt", ["", "{", "[1]"])
def test_a_memory_that_broke_off_is_made_again(maker, spoilt):
    work = Shout()
    build(work, maker, "gas")
    (maker.parent / "kept" / "shout.json").write_text(spoilt)
    assert build(work, maker, "gas") == ["GAS"]
    assert work.texts == ["gas", "gas"]


def test_problems_leave_the_memory_as_it_was(maker):
    work = Shout()
    build(work, maker, "gas")

    def stumble(text: str) -> str:
        raise ValueError(text)

    with pytest.raises(ValueError, match="air"):
        build(stumble, maker, "gas", "air")
    build(work, maker, "gas")
    assert work.texts == ["gas"]
