"""What `serve` makes after an edit is, byte for byte, what a full build makes of the same files."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from build_tools import bundle, runtime
from build_tools.benchmark import project_copy
from build_tools.benchmark.building import EDITS, Edit
from build_tools.benchmark.project_copy import edit
from build_tools.rebuilding import CAN_COPY
from build_tools.standing import Standing

PROCEDURE = "content/procedures/gas_rate.yaml"
CALCULATOR = "content/calculators/gas_rate.yaml"
FIGURES = "data/limits/billing.yaml"
FORMULA = "calcs/calculators/gas_rate.py"
STYLE = "build_tools/theme/assets/css/calculator.css"
WORKER = "assets/handbook/worker.js"
# Beside those that are measured: what else a process that stands ready has read or imported.
TEMPLATE = Edit("a page's template", "build_tools/templates/parts.html.jinja", "None held", "None")
TOOL = Edit("a tool", "build_tools/pages/procedure.py", '"Purpose"', '"What for"')
SHARED = Edit("what formulas share", "calcs/engine/units.py", '"in w.g."', '"inches w.g."')
# Builds the pages alone: in a process that stands ready as that of `serve` does, or in a new one.
PAGES = """
import sys
from pathlib import Path
from build_tools import rebuilding
make_ready = rebuilding.make_ready
def ready(*given, **named):
    forget_changed = make_ready(*given, **named)
    print("Ready", flush=True)
    return forget_changed
def build(out, forget_changed):
    forget_changed()
    from build_tools import runtime, site
    with site._fresh(out) as folder:
        packed = site._make_pages(folder, site._bind_here)
        runtime.build_waiting(folder / "assets")
        site._close(folder, packed, "draft")
    print("Built", flush=True)
out = Path(sys.argv[1])
if "ready" in sys.argv:
    rebuilding.make_ready, rebuilding._build = ready, build
    sys.exit(rebuilding.main(out))
build(out, lambda: None)
"""


@pytest.fixture(scope="module")
def project(tmp_path_factory) -> Path:
    """A copy of this project that has been built once."""
    root = project_copy.make(tmp_path_factory.mktemp("rebuild") / "project")
    bring_runtime(root)
    run(root, "build_tools", "build", "--draft", "--out", str(root / "shown/site"))
    return root


def bring_runtime(root: Path) -> None:
    """Bring what other tests have made of the same sources; else the copy makes its own."""
    made = runtime.CACHE / "python" / runtime._python_key(bundle.make())
    for folder in (made, *(runtime.CACHE / "shorn").glob("[!u]*")):
        if folder.is_dir():
            shutil.copytree(folder, root / ".cache/runtime" / folder.relative_to(runtime.CACHE))


def run(root: Path, *module: str, said: str = "") -> str:
    command = [sys.executable, "-m", *module]
    return subprocess.run(
        command, cwd=root, check=True, input=said, stdout=subprocess.PIPE, text=True
    ).stdout


def built_whole(root: Path) -> dict[str, bytes]:
    """A full build that remembers nothing but the runtime, which has tests of its own."""
    for name in ("remembered", "charts", "templates"):
        shutil.rmtree(root / ".cache" / name, ignore_errors=True)
    out = root / "whole/site"
    run(root, "build_tools", "build", "--draft", "--out", str(out))
    return files(out)


def files(site: Path) -> dict[str, bytes]:
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in site.rglob("*")
        if path.is_file()
    }


def different(one: dict[str, bytes], other: dict[str, bytes]) -> list[str]:
    return sorted(name for name in one.keys() | other.keys() if one.get(name) != other.get(name))


def test_an_edit_of_words_or_of_the_look_is_whole_at_once(project):
    before = files(project / "shown/site")
    edit(project / PROCEDURE, "The meter is the only thing", "The meter is the one thing")
    edit(project / STYLE, "}", "  outline-offset: 0;\n}")
    said = run(project, "build_tools.rebuilding", str(project / "shown/site"), said="\n")
    assert "The calculators follow" not in said
    shown = files(project / "shown/site")
    assert b"The meter is the one thing" in shown["procedures/gas_rate.html"]
    assert b"being made anew" not in shown[WORKER]
    changed = different(shown, before)
    assert [name for name in changed if name.startswith("assets/runtime/")] == []


def test_an_edit_of_what_calculators_work_with_stops_them_until_they_follow(project):
    edit(project / CALCULATOR, "title: Gas rate", "title: Gas rates")
    edit(project / FIGURES, "value: 1.02264", "value: 1.022641")
    edit(project / FORMULA, "Heat input of an appliance from", "Heat input of an appliance by")
    shown = project / "shown/site"
    making = subprocess.Popen(
        [sys.executable, "-m", "build_tools.rebuilding", str(shown)],
        cwd=project, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    with making:
        assert making.stdin
        assert making.stdout
        making.stdin.write("\n")
        making.stdin.close()
        assert any("The calculators follow" in line for line in making.stdout)
        pages, worker = files(shown), (shown / WORKER).read_text("utf-8")
        assert making.stdout.read().count("runtime") == 1
    assert making.returncode == 0
    assert b"Gas rates" in pages["calculators/gas_rate.html"]
    assert "being made anew" in worker
    assert different(files(shown), built_whole(project)) == []


def test_one_process_builds_edit_after_edit_and_after_one_that_is_given_up(project, capfd):
    page = project / "shown/site/procedures/gas_rate.html"
    standing = Standing(project / "shown/site", project)

    def built(found: str, written: str) -> int:
        edit(project / PROCEDURE, found, written)
        standing.build()
        return ended()

    def ended() -> int:
        while (status := standing.settled()) is None:
            time.sleep(0.02)
        return status

    try:
        assert built("kind: procedure", "kind: procedures") == 1
        assert "rename it to 'procedure'" in capfd.readouterr().err
        standing.build()
        standing.give_up()  # at once, before anything was done
        standing.build()
        while "Checking data" not in capfd.readouterr().out:
            time.sleep(0.02)
        standing.give_up()
        assert [each.name for each in (project / "shown").iterdir()] == ["site"]
        edit(project / PROCEDURE, "title: Check the gas rate", "title: Prove the gas rate")
        assert built("kind: procedures", "kind: procedure") == 0
        assert "Prove the gas rate" in page.read_text("utf-8")
        standing._process.kill()  # as a system short of memory would
        standing.build()
        ended()
        assert built("title: Prove the gas rate", "title: Check the gas rate") == 0
        assert "Prove the gas rate" not in page.read_text("utf-8")
    finally:
        standing.end()


@pytest.mark.skipif(not CAN_COPY, reason="there Ctrl-C goes to every process of a window")
def test_ctrl_c_does_not_reach_the_process_that_stands_ready(project):
    standing = Standing(project / "shown/site", project)
    own = os.getpgid(standing._process.pid)
    standing.end()  # though it is in the midst of its imports
    assert own != os.getpgrp()
    assert standing._process.returncode == -signal.SIGTERM


class ReadyForPages:
    """A process that stands ready and builds the pages alone, edit after edit."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.out = root / "pages/site"
        self.process = self._started()

    def _started(self) -> subprocess.Popen[str]:
        process = subprocess.Popen(
            [sys.executable, "-c", PAGES, str(self.out), "ready"],
            cwd=self.root, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        )  # fmt: skip
        until(process, "Ready")
        return process

    def after(self, *changes: Edit) -> dict[str, bytes] | None:
        """What is shown of edits that are made while it stands ready; None after a failure."""
        for change in changes:
            edit(self.root / change.file, change.found, change.written)
        assert self.process.stdin
        self.process.stdin.write("\n")
        self.process.stdin.flush()
        said = until(self.process, "Ready")
        if self.process.poll() is not None:  # where a process can't be copied, it builds once
            self.process = self._started()
        return files(self.out) if "Built" in said else None

    def end(self) -> None:
        self.process.communicate()


def until(process: subprocess.Popen[str], word: str) -> list[str]:
    """What it says until it says this, or ends."""
    assert process.stdout
    said = []
    for line in process.stdout:
        said.append(line.strip())
        if said[-1] == word:
            break
    return said


@pytest.fixture(scope="module")
def ready(project) -> Iterator[ReadyForPages]:
    standing = ReadyForPages(project)
    assert standing.after()
    yield standing
    standing.end()


# What reaches most pages comes first: what follows reaches few, and hides nothing on the others.
# Edits of different files that reach different pages are saved together, as an editor may.
MEASURED = {each.kind: each for each in EDITS}
GROUPS = (
    ((TEMPLATE,), (MEASURED["a formula"], MEASURED["a procedure's words"])),
    (
        *((TOOL,), (SHARED,)),
        (MEASURED["a calculator's words"], MEASURED["the look"]),
        (MEASURED["a figure"],),
    ),
)


def kinds(group: tuple[tuple[Edit, ...], ...]) -> str:
    return ", then ".join(" and ".join(each.kind for each in saved) for saved in group)


@pytest.mark.parametrize("group", GROUPS, ids=kinds)
def test_pages_after_an_edit_are_those_of_a_build_that_remembers_nothing(project, ready, group):
    shown = files(ready.out)
    for saved in group:
        before, shown = shown, ready.after(*saved)
        assert shown, f"{kinds((saved,))}: not built"
        assert different(shown, before) != [], f"{kinds((saved,))}: nothing changed"
    assert different(shown, pages_without_memory(project)) == []


def pages_without_memory(root: Path) -> dict[str, bytes]:
    for name in ("remembered", "charts", "templates"):
        shutil.rmtree(root / ".cache" / name)
    out = root / "cold/site"
    subprocess.run([sys.executable, "-c", PAGES, str(out)], cwd=root, check=True)
    return files(out)


def test_what_was_broken_while_it_waited_is_shown_once_it_is_mended(ready):
    whole = files(ready.out)
    mended = Edit("mended", FORMULA, "def gas_rate((", "def gas_rate(")
    assert ready.after(Edit("broken", FORMULA, mended.written, mended.found)) is None
    shown = ready.after(mended)
    assert shown
    assert different(shown, whole) == []
