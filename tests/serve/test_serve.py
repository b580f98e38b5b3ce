"""The command `serve` on a copy of this project: what an author sees of an edit, in a browser."""

from __future__ import annotations

import json
import re
import shutil
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from build_tools.bench import project_copy
from build_tools.bench.project_copy import edit
from build_tools.pages.drawn_charts import CACHE as CHARTS
from build_tools.pages.render import CACHE as TEMPLATES
from build_tools.runtime import make_runtime
from build_tools.runtime.cache import UNFINISHED
from build_tools.setup.paths import ROOT
from tests import chromium
from tests.browser.calculator_page import CalculatorPage
from tests.project import lend

pytestmark = [pytest.mark.browser, pytest.mark.usefixtures("heeds_ctrl_c")]
SOON_MS = 120_000  # on a machine that does other work too; `bench` measures how soon it is
PROCEDURE = "content/procedures/before_you_start.yaml"
PAGE = "procedures/before_you_start.html"  # no calculator starts at each of its loads
TOOL = "build_tools/pages/procedure.py"
FORMULA = "calcs/calculators/gas_rate.py"
LOOK = "build_tools/theme/assets/css/calculator.css"
FIGURES = "data/limits/billing.yaml"
PANEL = "[data-hb-problems]"


class Serving:
    """`serve` at work on a copy of this project."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.said: list[str] = []
        self.process = subprocess.Popen(
            [sys.executable, "-m", "build_tools", "serve", "--port", "8650"],
            cwd=root, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        )  # fmt: skip
        self.listening = threading.Thread(target=self._listen, daemon=True)
        self.listening.start()
        self.address = re.sub(r".* at ", "", self.wait_for("The handbook is at"))

    def _listen(self) -> None:
        assert self.process.stdout
        self.said += [""]
        for line in self.process.stdout:
            self.said.append(line.rstrip())

    def wait_for(self, beginning: str) -> str:
        """The line that begins so."""
        until = time.monotonic() + SOON_MS / 200
        while time.monotonic() < until and self.process.poll() is None:
            for line in self.said:
                if line.startswith(beginning):
                    return line
            time.sleep(0.05)
        pytest.fail("\n".join(self.said))

    def edit(self, file: str, found: str, written: str) -> None:
        """Save other words in a file."""
        edit(self.root / file, found, written)


def bring_what_was_made(cache: Path, bundle: Mapping[str, Any]) -> None:
    """What other tests have made of the same sources."""
    python = make_runtime._python_key(bundle)
    kinds = [make_runtime.CACHE / name for name in ("others", "scripts", "stripped")]
    for made in (CHARTS, TEMPLATES, *kinds, make_runtime.CACHE / "python" / python):
        if made.is_dir():
            unfinished = shutil.ignore_patterns(f"{UNFINISHED}*")
            shutil.copytree(made, cache / made.relative_to(ROOT / ".cache"), ignore=unfinished)


@pytest.fixture(scope="module")
def serving(tmp_path_factory, bundle_text) -> Iterator[Serving]:
    root = project_copy.make(tmp_path_factory.mktemp("serve") / "project")
    bring_what_was_made(root / ".cache", json.loads(bundle_text))
    lend(root)
    started = Serving(root)
    yield started
    if started.process.poll() is None:
        started.process.send_signal(signal.SIGINT)
    started.process.communicate(timeout=60)


@pytest.fixture(scope="module")
def browser(playwright: Playwright) -> Iterator[Browser]:
    opened = playwright.chromium.launch(**chromium.launch())
    yield opened
    opened.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page in a fresh window, which may report no fault."""
    faults: list[str] = []
    context = browser.new_context()
    context.on("weberror", lambda error: faults.append(str(error.error)))
    context.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
    yield context.new_page()
    context.close()
    assert [each for each in faults if "404" not in each] == []


# Each edit has the whole handbook made and checked anew, so what can be is saved together.
def test_a_problem_is_shown_until_it_is_mended_then_each_edit_and_what_was_typed_stays(
    page, serving
):
    typed_in = page.context.new_page()
    typed_in.goto(f"{serving.address}calculators/gas_rate.html")
    form = CalculatorPage(typed_in, "gas_rate")
    form.enter(volume="0.1", elapsed="120")
    form.expect_answer("flow_rate", "3.000\u00a0m³/h")
    page.goto(f"{serving.address}{PAGE}")
    panel, words = page.locator(PANEL), page.locator("main")

    broken = "summary: <img src=x onerror=alert(1)>"
    serving.edit(PROCEDURE, "summary: ", f"{broken} ")
    expect(panel).to_contain_text(f"{PROCEDURE}:4:10  summary", timeout=SOON_MS)
    expect(panel).to_contain_text("Here is an HTML tag: <img src=x onerror=alert(1)>.")
    expect(panel).to_contain_text("Fix: delete it.")
    expect(panel.locator("img")).to_have_count(0)
    assert panel.evaluate("panel => getComputedStyle(panel).position") == "fixed"
    page.reload()
    expect(panel).to_be_visible()

    # Then Python that can't be read, in a tool of the build.
    serving.edit(PROCEDURE, f"{broken} ", "summary: ")
    serving.edit(TOOL, '"Purpose"', '"What for')
    expect(panel).to_contain_text("SyntaxError", timeout=SOON_MS)
    expect(panel).not_to_contain_text("HTML tag")

    # It is mended. Words, the look, a figure and a formula come with it.
    serving.edit(TOOL, '"What for', '"What for"')
    serving.edit(PROCEDURE, "A few minutes here", "Some minutes here")
    serving.edit(LOOK, "}", "  outline: 3px solid rgb(1, 2, 3);\n}")
    serving.edit(FIGURES, "value: 1.02264", "value: 1.02265")
    serving.edit(FORMULA, "(gas_used / elapsed)", "(gas_used / elapsed * 2)")
    expect(words).to_contain_text("What for", timeout=SOON_MS)
    expect(words).to_contain_text("Some minutes here")
    expect(panel).to_have_count(0, timeout=SOON_MS)
    outlined = typed_in.locator(".hb-calc").first
    expect(outlined).to_have_css("outline-color", "rgb(1, 2, 3)", timeout=SOON_MS)
    expect(typed_in.locator("main")).to_contain_text("1.02265", timeout=SOON_MS)
    own = form.root.locator('[data-hb-own] [data-hb-answer="flow_rate"]')
    expect(own).to_have_text(re.compile(r"^6\.00"), timeout=2 * SOON_MS)
    expect(form.control("volume")).to_have_value("0.1")
    expect(form.control("elapsed")).to_have_value("120")


def test_no_built_page_knows_of_it(serving):
    pages = list((serving.root / ".cache/serve/site").rglob("*.html"))
    assert pages
    assert [page.name for page in pages if "-serve" in page.read_text("utf-8")] == []


def test_ctrl_c_ends_it_with_one_line_and_leaves_nothing_behind(serving):
    at = len(serving.said)
    serving.edit(PROCEDURE, "Check that your", "See that your")
    while "A file changed." not in serving.said[at:]:
        time.sleep(0.05)
    serving.process.send_signal(signal.SIGINT)
    assert serving.process.wait(timeout=20) == 0
    serving.listening.join(timeout=20)  # a process that lived on would keep this from its end
    assert not serving.listening.is_alive()
    said = [line for line in serving.said[at:] if line and not line.endswith("…")]
    # The build of the test before may have said its last line after this one began.
    assert said[said.index("A file changed.") :] == ["A file changed.", "Stopped."]
    assert [each.name for each in (serving.root / ".cache/serve").iterdir()] == ["site"]
