"""What several builds keep in one place: none meets half a file, or loses what it is reading."""

from __future__ import annotations

import os
import threading
import time
from pathlib import Path

from build_tools.runtime import make_runtime
from build_tools.runtime.cache import IN_USE_S, forget_oldest, write_whole

TEXTS = [letter * 200_000 for letter in "abcd"]


def test_a_file_that_many_write_at_once_is_whole_at_any_moment(tmp_path: Path):
    file, failed = tmp_path / "bundle.json", list[Exception]()

    def write(text: str) -> None:
        try:
            for _ in range(20):
                write_whole(file, text)
        except OSError as problem:
            failed.append(problem)

    writers = [threading.Thread(target=write, args=(text,)) for text in TEXTS]
    write_whole(file, TEXTS[0])
    for writer in writers:
        writer.start()
    while any(writer.is_alive() for writer in writers):
        assert file.read_text("utf-8") in TEXTS
    assert failed == []
    assert list(tmp_path.iterdir()) == [file]


def test_what_a_build_has_asked_for_of_late_is_left_to_it(tmp_path: Path):
    now, names = time.time(), [f"state-{number}" for number in range(8)]
    for age, name in enumerate(names):
        (tmp_path / name).mkdir()
        made = now - age * 60 if age < 6 else now - IN_USE_S - age * 60
        os.utime(tmp_path / name, (made, made))
    (tmp_path / ".unfinished-1").mkdir()
    os.utime(tmp_path / ".unfinished-1", (0, 0))  # another build is at work in it
    forget_oldest(tmp_path, kept=4)
    assert {each.name for each in tmp_path.iterdir()} == {*names[:6], ".unfinished-1"}


def test_of_two_builds_that_make_one_state_both_have_it(tmp_path: Path, monkeypatch):
    monkeypatch.setattr(make_runtime, "CACHE", tmp_path)
    both = threading.Barrier(2)

    def make(folder: Path) -> None:
        (folder / "file").write_text("made", "utf-8")
        both.wait(timeout=10)

    found: list[Path] = []
    builds = [
        threading.Thread(target=lambda: found.append(make_runtime.kept("python", "key", make)))
        for _ in range(2)
    ]
    for build in builds:
        build.start()
    for build in builds:
        build.join()
    assert [(folder / "file").read_text("utf-8") for folder in found] == ["made", "made"]
