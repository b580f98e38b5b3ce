"""The worker in Chromium: both starts, each file that may be missing or spoilt, a strict policy."""

from __future__ import annotations

import gzip
import json
import struct
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserType, Page

from tests import chromium
from tests.runtime.runtime_site import Sent, Site, served
from tests.runtime.spoilt_snapshots import (
    SNAPSHOT,
    altered,
    cut_short,
    quickly_packed,
    too_long,
    wrong_at,
)
from tests.tables.rows import rows

pytestmark = pytest.mark.browser

WASM = "pyodide.asm.wasm"
A_PAGE = Sent(b"<!doctype html>Sign in to this network", kind="text/html; charset=utf-8")
MISSING = Sent(b"", status=404)

# The last given tells it to end as soon as the ordinary start begins, which is by far the dearest.
ASK = """async ([base, start, requests, endsAtOrdinary]) => {
    const heard = [];
    const script = `${base}assets/handbook/worker.js`;
    const worker = new Worker(script + (start ? `?start=${start}` : ''));
    const replies = await new Promise((resolve) => {
        const replies = [];
        worker.onerror = (event) => resolve([{error: event.message}]);
        worker.onmessage = ({data}) => {
            if (data.stage) heard.push(data);
            else replies.push(data);
            const isEnd = endsAtOrdinary && data.stage === 'starting';
            const hasAll = !data.stage && replies.length === requests.length;
            if (isEnd || hasAll || data.stopped) resolve(replies);
        };
        setTimeout(() => resolve([...replies, {error: 'Nothing more was heard.'}]), 120_000);
        requests.forEach((request, id) => worker.postMessage({id, action: 'run', request}));
    });
    worker.terminate();
    return {replies, heard};
}"""

# A process compiles the same bytes once, as long as somebody holds what came of them.
HOLD = """async (address) => {
    globalThis.held = await WebAssembly.compileStreaming(fetch(address));
}"""

Ask = Callable[..., dict[str, Any]]


@pytest.fixture(scope="module")
def server(assets) -> Iterator[Site]:
    with served(assets) as there:
        yield there


@pytest.fixture
def site(server) -> Site:
    """Where nothing was fetched from before, and nothing is spoilt."""
    server.anew()
    return server


@pytest.fixture(scope="module")
def program(playwright) -> tuple[BrowserType, dict[str, Any]]:
    """Chromium, and how to launch it here."""
    return playwright.chromium, chromium.launch()


@pytest.fixture(scope="module")
def opened(program) -> Iterator[Browser]:
    kind, launch = program
    browser = kind.launch(**launch)
    yield browser
    browser.close()


@pytest.fixture(scope="module")
def page(opened, server) -> Page:
    """One for all: each test asks workers of its own, which lie at an address of its own."""
    page = opened.new_page()
    page.goto(server.origin)
    page.evaluate(HOLD, f"{server.base}assets/runtime/{WASM}")
    return page


@pytest.fixture
def ask(page, site) -> Ask:
    """Ask a fresh worker; `ask("ordinary", request, …)`, None for the best start."""
    return lambda start, *asked: page.evaluate(ASK, [site.base, start, list(asked)])


@pytest.fixture(scope="module")
def sample() -> list[dict[str, Any]]:
    every = [row.request for row in rows()]
    return every[:: max(1, len(every) // 12)]


def checked(bridge, sample, found, way: str) -> None:
    """The replies are CPython's to the last digit, and came from this start."""
    assert found["heard"][-1]["stage"] == "ready", found
    assert found["heard"][-1]["way"] == way
    for request, reply in zip(sample, found["replies"], strict=True):
        wanted = json.loads(bridge.answer(json.dumps(request)))
        # Numbers are equal only when every digit is. Their text is compared under Node, where a
        # whole number keeps its .0 on the way.
        assert reply["result"] == wanted


# The ordinary start is by far the dearest: what takes over further below proves it as well.


def test_the_snapshot_is_taken_where_it_can_be(ask, bridge, sample, site):
    checked(bridge, sample, ask(None, *sample), "snapshot")
    assert "python_stdlib.zip" not in site.asked
    assert "pyodide.asm.js" not in site.asked


def test_a_server_that_has_the_browser_unpack_the_snapshot_is_understood(ask, bridge, sample, site):
    content = (site.assets / "runtime" / SNAPSHOT).read_bytes()
    site.spoilt[SNAPSHOT] = Sent(content, headers={"Content-Encoding": "gzip"})
    checked(bridge, sample, ask("snapshot", *sample), "snapshot")


# 0.1 m³ in 100 s is 0.1 × 3600 ÷ 100 m³/h.
RATE = {
    "calculator": "gas_rate",
    "today": "2026-11-25",
    "inputs": {
        "method": {"value": "volume"},
        "volume": {"value": "0.1", "unit": "m**3"},
        "elapsed": {"value": "100", "unit": "s"},
    },
}

NOT_BUILT_WITH = "snapshot.bin.gz is not what this edition was built with."


@pytest.mark.parametrize(
    ("spoil", "why"),
    [
        (lambda _: MISSING, "could not be fetched (404)"),
        (lambda _: A_PAGE, "sent a page in place of snapshot.bin.gz"),
        (lambda _: Sent(b"nothing of the kind"), NOT_BUILT_WITH),
        (cut_short, NOT_BUILT_WITH),
        (altered, NOT_BUILT_WITH),
        (too_long, NOT_BUILT_WITH),
        (wrong_at(1_000_000), NOT_BUILT_WITH),
        (wrong_at(-4), NOT_BUILT_WITH),
    ],
    ids=[
        *("missing", "a page", "other bytes", "cut short", "altered", "too long"),
        *("one wrong bit", "one wrong bit at the end"),
    ],
)
def test_a_snapshot_that_is_refused_gives_way_to_the_ordinary_start(page, site, spoil, why):
    """It is noticed before any of it runs: nothing was answered, and the other start begins."""
    site.spoilt[SNAPSHOT] = spoil(site)
    found = page.evaluate(ASK, [site.base, None, [RATE], True])
    assert found["replies"] == []
    assert [stage["way"] for stage in found["heard"]] == ["snapshot", "ordinary"]
    assert why in found["heard"][-1]["why"]


@pytest.mark.parametrize("name", ["pyodide.js", "pyodide.asm.js", WASM, "python_stdlib.zip"])
@pytest.mark.parametrize("sent", [MISSING, A_PAGE], ids=["missing", "a page"])
def test_a_start_without_one_of_its_files_ends_in_words(ask, sample, site, name, sent):
    site.spoilt[name] = sent
    found = ask("ordinary", sample[0])
    [reply] = found["replies"]
    assert reply["stopped"]["kind"] == "RuntimeStopped"
    assert reply["stopped"]["message"].startswith("The calculators could not start or go on.")


def test_a_wheel_that_is_not_what_the_lock_says_is_not_run(ask, sample, site):
    lock = json.loads((site.assets / "runtime" / "pyodide-lock.json").read_text())
    name = lock["packages"]["calcs"]["file_name"]
    site.flip(name, 300)
    [reply] = ask("ordinary", sample[0])["replies"]
    assert reply["stopped"]["message"] == f"A file of this handbook is damaged: {name}."


def in_a_docstring(site: Site) -> int:
    """A place in the runtime where nothing but its hash can tell that a byte is wrong."""
    return (site.assets / "runtime" / WASM).read_bytes().index(b"arc cosine")


@pytest.mark.parametrize("way", ["snapshot", "ordinary", None])
def test_a_damaged_runtime_that_would_start_never_answers(ask, sample, site, way):
    site.flip(WASM, in_a_docstring(site))
    [reply] = ask(way, sample[0])["replies"]
    assert reply["stopped"]["kind"] == "FilesDamaged"
    assert reply["stopped"]["message"] == f"A file of this handbook is damaged: {WASM}."


@pytest.mark.parametrize("name", ["pyodide.js", "pyodide.asm.js", "python_stdlib.zip"])
def test_no_file_of_the_ordinary_start_runs_unless_its_hash_is_right(ask, sample, site, name):
    site.flip(name, 40)
    [reply] = ask("ordinary", sample[0])["replies"]
    assert reply["stopped"]["message"] == f"A file of this handbook is damaged: {name}."


WITHOUT_HASHES = "delete Object.getPrototypeOf(self.crypto).subtle"


def test_where_scripts_cannot_make_hashes_the_browser_checks_them(ask, bridge, sample, site):
    """As over plain http: the browser still checks what it fetches."""
    worker = site.assets / "handbook" / "worker.js"
    without = f"{WITHOUT_HASHES};{worker.read_text('utf-8')}".encode()
    site.spoilt["worker.js"] = Sent(without, kind="text/javascript")
    checked(bridge, sample, ask(None, *sample), "snapshot")
    site.anew()
    site.spoilt["worker.js"] = Sent(without, kind="text/javascript")
    site.flip(WASM, in_a_docstring(site))
    [reply] = ask(None, sample[0])["replies"]
    assert reply["stopped"]["kind"] == "FilesDamaged"


class Once(dict[str, Sent]):
    """What is sent in place of files; of the snapshot only the first time that it is asked for."""

    def __getitem__(self, name: str) -> Sent:
        return self.pop(name) if name == SNAPSHOT else super().__getitem__(name)


def of_another_hour(site: Site) -> Sent:
    """A snapshot that starts as it should and takes an hour for 7200 s. No cache keeps it."""
    content = gzip.decompress((site.assets / "runtime" / SNAPSHOT).read_bytes())
    hour = struct.pack("<d", 3600.0)
    assert hour in content
    spoilt = content.replace(hour, struct.pack("<d", 7200.0))
    return Sent(quickly_packed(spoilt), headers={"Cache-Control": "no-store"})


def rate_of(reply: dict[str, Any]) -> float:
    answers = reply["result"]["answer"]["answers"]
    [rate] = [each["value"] for each in answers if each["name"] == "flow_rate"]
    return rate


# A file that would give a wrong figure gives none, not even the first. It comes wrong once: what
# comes right after it proves nothing of it.


def test_the_ordinary_start_that_takes_over_answers_as_cpython_from_the_first(
    ask, bridge, sample, site
):
    """Also where the server sends the runtime as another type."""
    wasm = Sent((site.assets / "runtime" / WASM).read_bytes(), kind="text/plain")
    site.spoilt = Once({SNAPSHOT: of_another_hour(site), WASM: wasm})
    asked = [RATE, *sample]
    found = ask(None, *asked)
    checked(bridge, asked, found, "ordinary")
    assert rate_of(found["replies"][0]) == pytest.approx(3.6), "the damaged file's figure"


def test_a_file_that_would_give_a_wrong_figure_gives_none_where_scripts_cannot_hash(ask, site):
    worker = (site.assets / "handbook" / "worker.js").read_text("utf-8")
    sent = Sent(f"{WITHOUT_HASHES};{worker}".encode(), kind="text/javascript")
    site.spoilt = Once({"worker.js": sent, SNAPSHOT: of_another_hour(site)})
    [reply] = ask(None, RATE)["replies"]
    assert rate_of(reply) == pytest.approx(3.6), "the damaged file's figure"


def test_a_damaged_file_in_the_browser_s_cache_is_fetched_anew(program, site, sample, tmp_path):
    kind, launch = program
    # A profile on disk: the cache of a passing one is too small for the runtime.
    context = kind.launch_persistent_context(tmp_path, **launch)
    page = context.new_page()
    page.goto(site.origin)
    asked = [site.base, None, [sample[0]]]
    site.flip(WASM, in_a_docstring(site))
    page.evaluate(ASK, asked)
    site.spoilt.clear()  # the server is right again; the browser's cache is not
    [reply] = page.evaluate(ASK, asked)["replies"]
    assert reply["stopped"]["kind"] == "FilesRefetched"
    [reply] = page.evaluate(ASK, asked)["replies"]
    assert "result" in reply
    context.close()


def test_text_with_half_a_character_is_answered(ask):
    request = {"calculator": "gas_rate", "today": "2026-11-25"}
    asked = [{**request, "inputs": {"volume": {"value": "\ud83d 12"}}}]
    [reply] = ask("snapshot", *asked)["replies"]
    assert "refused" in reply["result"]
