"""The benchmark measures what it says, and the figures that a test can hold are held."""

from __future__ import annotations

import gzip
import json
import os
import subprocess
import sys
import time
import urllib.request

import pytest

from build_tools import bench
from build_tools.bench import as_json
from build_tools.benchmark import (
    building,
    edition_size,
    first_answer,
    four_calculators,
    project_copy,
    readable,
    without_network,
)
from build_tools.benchmark.browser import chromium
from build_tools.benchmark.figures import Figure, percentile, table
from build_tools.project import ROOT


def test_a_percentile_is_a_value_that_95_of_100_do_not_exceed():
    assert percentile(range(1, 101)) == 95
    assert percentile([3.0]) == 3.0


@pytest.mark.parametrize(
    ("better", "value", "reached"),
    [("more", 6.0, True), ("more", 5.9, False), ("less", 6.0, True), ("less", 6.1, False)],
)
def test_a_figure_knows_whether_it_is_reached(better, value, reached):
    assert Figure("A figure", value, "times", asked=6, better=better).is_reached is reached


def test_a_figure_that_nothing_is_asked_of_is_reached():
    assert Figure("A figure", 1, "ms").is_reached


def test_the_table_shows_what_was_asked_and_what_is_missed():
    first, second = table([Figure("Sooner", 5.0, "times", 6.0, "more", ("snapshot  1 ms",))])
    assert " ".join(first.split()) == "Sooner 5.0 times asked: at least 6 times NOT REACHED"
    assert second == "    snapshot  1 ms"


def test_json_holds_every_sample():
    [said] = as_json([Figure("Sooner", 7.0, "times", samples={"snapshot": [1.0]})])["figures"]
    assert said["samples"] == {"snapshot": [1.0]}
    assert said["reached"] is True


def test_size_counts_text_as_it_is_sent(tmp_path):
    (tmp_path / "page.html").write_text("a" * 1_000_000)
    (tmp_path / "snapshot.bin.gz").write_bytes(b"a" * 1_000_000)
    [figure] = edition_size.measure(tmp_path)
    assert 1.0 < figure.value < 1.01
    assert "2 files, 2.0 MB on disk" in figure.detail[0]


def test_the_heaviest_page_is_named_and_weighed_alone(tmp_path):
    (tmp_path / "light.html").write_text("a" * 1000)
    (tmp_path / "heavy.html").write_text("a" * 251_000)
    (tmp_path / "shared.js").write_text("a" * 900_000)
    figure = readable.weight(tmp_path)
    assert (figure.value, figure.unit, figure.is_reached) == (251.0, "kB", False)
    assert figure.detail == (" 251.0 kB  heavy.html", "   1.0 kB  light.html")


@pytest.mark.browser
def test_the_largest_paint_is_timed_on_a_slowed_processor(tmp_path, playwright):
    (tmp_path / "index.html").write_text("<!doctype html><title>Page</title><h1>Words</h1>")
    with chromium(tmp_path, playwright) as browser:
        [paint, _] = readable.measure(browser, tmp_path, repeats=1)
    assert 0 < paint.value == paint.samples["index.html"][0] / 1000


def test_a_slow_link_lets_through_what_it_says(tmp_path, monkeypatch):
    (tmp_path / "index.html").write_bytes(b"<!doctype html>")
    (tmp_path / "snapshot.bin.gz").write_bytes(os.urandom(400_000))
    monkeypatch.setattr(without_network, "BYTES_PER_SECOND", 1_000_000)
    with without_network._slow_link(tmp_path) as address:
        began = time.monotonic()
        with urllib.request.urlopen(f"{address}snapshot.bin.gz") as reply:  # noqa: S310  our own
            assert len(reply.read()) == 400_000
        assert time.monotonic() - began > 0.4
        with urllib.request.urlopen(address) as reply:  # noqa: S310  the same
            assert gzip.decompress(reply.read()) == b"<!doctype html>"
            assert reply.headers["Content-Encoding"] == "gzip"


def test_every_kind_of_edit_can_be_made_and_taken_back(tmp_path):
    for each in building.EDITS:
        before = (ROOT / each.file).read_text("utf-8")
        copy = tmp_path / "copy"
        copy.write_text(before, "utf-8")
        project_copy.edit(copy, each.found, each.written)
        assert copy.read_text("utf-8") != before
        project_copy.edit(copy, each.written, each.found)
        assert copy.read_text("utf-8") == before, each.kind
        with pytest.raises(RuntimeError, match="no longer holds"):
            project_copy.edit(copy, "words that nobody wrote", "")


@pytest.mark.browser
def test_the_snapshot_answers_at_least_six_times_sooner_than_the_ordinary_start(assets, playwright):
    (assets.parent / "404.html").write_text("<!doctype html><title>Empty</title><body>")
    with chromium(assets.parent, playwright) as browser:
        [figure] = first_answer.measure(browser, repeats=1, warm_up=1)
    assert figure.is_reached, figure


def test_the_full_set_is_held_against_a_handbook_of_four_calculators(tmp_path):
    project = tmp_path / "project"
    four_calculators.copy(project)
    ask = "from calcs.engine.registry import calculators; print(*calculators())"
    found = subprocess.run(
        [sys.executable, "-c", ask], cwd=project, capture_output=True, text=True, check=True
    )
    assert tuple(found.stdout.split()) == four_calculators.FOUR
    words = (project / "content" / "calculators").glob("*.yaml")
    assert sorted(file.stem for file in words) == list(four_calculators.FOUR)
    assert four_calculators.matching({"a.b": 1, "a.c": 2, "d": 3}, {"a.*", "e"}) == {
        "a.b": 1,
        "a.c": 2,
    }


def test_figures_are_written_for_a_program_and_the_status_tells_of_a_miss(
    monkeypatch, tmp_path, capsys
):
    missed = Figure("Sooner", 5.0, "times", 6.0, "more")
    monkeypatch.setattr(bench, "measure", lambda *_: [missed])
    file = tmp_path / "figures.json"
    assert bench.main(None, file, tmp_path) == 1
    assert "NOT REACHED" in capsys.readouterr().out
    assert json.loads(file.read_text())["figures"][0]["value"] == 5.0
