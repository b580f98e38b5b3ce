"""What is put into a page from outside neither runs nor reaches another host."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.calculator_page import START_MS
from tests.offline.conftest import PLAIN_HOST
from tests.offline.server import Site, served

MARKUP = '<img src=x onerror="window.hbRan=1"><script>window.hbRan=1</script>'
OUTSIDE = "outside"
VISITS = Path(__file__).parent.parent / "web" / "visits"
PASTE = """(control, text) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData('text/plain', text);
    const paste = {clipboardData, bubbles: true, cancelable: true};
    control.dispatchEvent(new ClipboardEvent('paste', paste));
}"""
MOST_FORMS = 15  # so many at least show what they refuse, or nothing was tried

# Each gives what it managed to do: "done", or "stopped".
TRIES = {
    "inline script": """(_) => {
        const made = document.createElement('script');
        made.textContent = 'window.hbRan = 1';
        document.body.append(made);
        return window.hbRan ? 'done' : 'stopped';
    }""",
    "inline handler": """(_) => {
        const made = document.createElement('button');
        made.setAttribute('onclick', 'window.hbRan = 1');
        document.body.append(made);
        made.click();
        return window.hbRan ? 'done' : 'stopped';
    }""",
    "text as code": """(_) => new Promise((tell) => {
        setTimeout('window.hbRan = 1');
        setTimeout(() => tell(window.hbRan ? 'done' : 'stopped'), 100);
    })""",
    "outside script": """(url) => new Promise((tell) => {
        const made = document.createElement('script');
        made.onload = () => tell('done');
        made.onerror = () => tell('stopped');
        made.src = `${url}.js`;
        document.body.append(made);
    })""",
    "outside image": """(url) => new Promise((tell) => {
        const made = new Image();
        made.onload = () => tell('done');
        made.onerror = () => tell('stopped');
        made.src = `${url}.svg`;
    })""",
    "outside fetch": """(url) =>
        fetch(`${url}.svg`, {mode: 'no-cors'}).then(() => 'done', () => 'stopped')""",
    "outside frame": """(url) => new Promise((tell) => {
        const made = document.createElement('iframe');
        document.addEventListener('securitypolicyviolation', () => tell('stopped'));
        made.onload = () => setTimeout(() => tell('done'), 300);
        made.src = `${url}.svg`;
        document.body.append(made);
    })""",
    "outside form": """(url) => new Promise((tell) => {
        const made = document.createElement('form');
        document.addEventListener('securitypolicyviolation', () => tell('stopped'));
        Object.assign(made, {action: `${url}.svg`, target: '_blank'});
        document.body.append(made);
        made.submit();
        setTimeout(() => tell('done'), 600);
    })""",
}

# Types into every field that can be seen; one at a time through the driver takes ten times as long.
TYPE = """(fields, text) => {
    for (const field of fields) {
        if (!field.checkVisibility()) continue;
        field.value = text;
        field.dispatchEvent(new Event('input', {bubbles: true}));
    }
}"""


@pytest.fixture
def site(editions) -> Iterator[Site]:
    with served(editions.hosted) as there:
        there.spoilt[f"{OUTSIDE}.svg"] = (editions.hosted / "assets/favicon.svg").read_bytes()
        there.spoilt[f"{OUTSIDE}.js"] = b"0;"
        yield there


@pytest.fixture
def visit(opened: Browser, site: Site):
    """Opens a page; `open_to_all` takes its policy away."""
    contexts = []

    def visiting(path: str, *, open_to_all: bool = False) -> Page:
        context = opened.new_context(service_workers="block", bypass_csp=open_to_all)
        contexts.append(context)
        page = context.new_page()
        page.goto(site.address + path)
        return page

    yield visiting
    for context in contexts:
        context.close()


@pytest.fixture
def asleep(site: Site) -> None:
    """No calculator starts: for tests that ask none anything, and open many pages."""
    site.spoilt["assets/handbook/worker.js"] = b""


def test_a_try_to_run_or_to_reach_out_is_refused(visit, site):
    elsewhere = site.address.replace("127.0.0.1", PLAIN_HOST) + OUTSIDE
    page = visit("404.html")  # every page has the same policy, and this one is the lightest
    for name, attempt in TRIES.items():
        assert page.evaluate(attempt, elsewhere) == "stopped", name
        assert [each for each in site.asked if each.startswith(OUTSIDE)] == [], name
        page.reload()
    # The same without the policy: it is the policy that stops it.
    without = visit("404.html", open_to_all=True)
    for name, attempt in TRIES.items():
        assert without.evaluate(attempt, elsewhere) == "done", name
        without.reload()


def expect_untouched(page: Page) -> None:
    """Nothing ran, and nothing of what was typed became an element."""
    assert page.evaluate("window.hbRan") is None
    assert page.locator('img[src="x"]').count() == 0


def test_markup_in_every_field_of_every_form_is_only_text(visit, editions):
    page = visit("index.html")
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    refused = 0
    for file in sorted((editions.hosted / "calculators").glob("*.html")):
        link = page.locator(f'#hb-nav a[href$="{file.name}"]:not([href*="procedures/"])').first
        link.evaluate("link => link.click()")  # moved to in place: one start of the runtime for all
        root = page.locator(f'hb-calculator[calculator="{file.stem}"]').first
        expect(root.locator("[data-hb-form]")).to_be_visible()
        fields = root.locator("[data-hb-form] input:not([type]), [data-hb-form] input[type=text]")
        fields.evaluate_all(TYPE, MARKUP)
        root.locator("[type=submit]").first.click()
        settled = re.compile("refused|answered")  # one that asks for choices alone has an answer
        expect(root).to_have_attribute("data-state", settled, timeout=START_MS)
        refused += "<img src=x" in str(root.text_content())
        expect_untouched(page)
    page.reload()
    expect_untouched(page)
    assert refused > MOST_FORMS
    assert faults == []


def test_markup_in_a_table_that_is_pasted_is_only_text(visit):
    """What comes in from a spreadsheet, cell by cell: into fields, and into choices too."""
    page = visit("calculators/pipe_pressure_loss.html")
    root = page.locator("hb-calculator")
    cell = root.locator('[name="sections[0].material"]')
    expect(cell).to_be_visible()
    line = "\t".join(["Other", *[MARKUP] * 6])
    cell.evaluate(PASTE, f"{line}\n{MARKUP}\t{MARKUP}")
    expect(root.locator("[data-hb-row]")).to_have_count(2)
    root.locator("[type=submit]").first.click()
    expect(root).to_have_attribute("data-state", "refused", timeout=START_MS)
    expect(root).to_contain_text("<img src=x")
    expect_untouched(page)


def test_markup_in_the_search_is_only_text(visit):
    page = visit("index.html")
    page.get_by_role("searchbox").fill(MARKUP)
    found = page.get_by_role("search").get_by_role("status")
    expect(found).to_have_text(re.compile(r"^(Nothing found|\d+ found)"))
    expect_untouched(page)


def marked(value):
    """The same with markup behind every text that may be any text."""
    if isinstance(value, dict):
        return {key: marked(each) if key not in FIXED else each for key, each in value.items()}
    if isinstance(value, list):
        return [marked(each) for each in value]
    return f"{value} {MARKUP}" if isinstance(value, str) else value


FIXED = {
    *("format", "id", "begun", "closed", "at", "written", "calculator", "outcome"),
    *("step", "reading", "state", "choices", "appliance", "procedure"),
    *("kind", "resolution", "accuracy", "calibrated_until"),
}


@pytest.mark.usefixtures("asleep")
def test_markup_in_every_field_of_a_record_and_of_an_import_is_only_text(visit):
    """In the fields of the page, and in a file: what it shows of them, and what it refuses."""
    page = visit("record/visit.html")
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    expect(page.locator("[data-hb-visit-new-name]")).to_be_visible()
    page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
    page.locator("[data-hb-visit-new-name]").fill(MARKUP)
    page.get_by_role("button", name="Start it").click()
    expect(page.locator("[data-hb-visit]")).to_contain_text("<img src=x")
    page.locator("main input[type=text], main textarea").evaluate_all(TYPE, MARKUP)
    expect(page.locator("[data-hb-visit]")).to_contain_text(
        re.compile(r"\d{3} readings, 0 answers")
    )

    whole = json.loads((VISITS / "whole.json").read_text("utf-8"))
    [held] = whole["visits"]
    names = {
        part: [each["name"] for each in held[part]] for part in ("readings", "notes", "checks")
    }
    spoilt = marked(whole)
    for part, own in names.items():  # names have a form of their own: see the refusal below
        for each, name in zip(spoilt["visits"][0][part], own, strict=True):
            each["name"] = name
    told = page.locator("[data-hb-import-said]")
    bring(page, json.dumps(spoilt), f"{MARKUP.replace('/', '')}.json")
    expect(told).to_contain_text("is imported")
    page.locator('[data-hb-act="open"]:visible').first.click()
    expect(page.locator(".hb-kept-answer")).to_contain_text("<img src=x")
    page.emulate_media(media="print")
    expect(page.locator(".hb-written__paper", has_text="<img src=x").first).to_be_visible()
    page.emulate_media(media="screen")
    bring(page, json.dumps(marked(held)), f"{MARKUP.replace('/', '')}.json")
    expect(told).to_contain_text("Nothing was imported from <img src=x")
    whole["visits"][0][MARKUP] = whole["visits"][0]["id"] = MARKUP
    bring(page, json.dumps(whole), "visits.json")
    expect(told.locator("li").first).to_contain_text("<img src=x")
    expect_untouched(page)
    for name in ("record/visit.html", "index.html", "procedures/burner_pressure.html"):
        page.goto(page.url.split("record/")[0].split("index")[0] + name)
        expect(page.locator("main h1")).to_be_visible()
        if name.startswith("procedures"):
            expect(page.locator("[data-hb-visit-bar]")).to_contain_text("<img src=x")
        expect_untouched(page)
    assert faults == []


def bring(page: Page, text: str, name: str) -> None:
    file = {"name": name, "mimeType": "application/json", "buffer": text.encode()}
    page.locator("[data-hb-import]").set_input_files(files=[file])


@pytest.mark.usefixtures("asleep")
def test_an_address_with_anything_in_it_opens_the_page(visit, site):
    page = visit("index.html")
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(f"{page.url}: {error}"))
    for part in ("#" + quote(MARKUP), "#" + MARKUP, "?start=" + quote(MARKUP), "#%E0%A4%A", "#%"):
        page.goto(f"{site.address}404.html")  # or the browser would but look for a place on a page
        page.goto(f"{site.address}calculators/gas_rate.html{part}")
        expect(page.locator("hb-calculator [data-hb-form]"), part).to_be_visible()
        page.locator(".md-header .md-logo").click()
        expect(page.locator(".hb-wants"), part).to_be_visible()
        page.go_back()
        expect(page.locator("hb-calculator [data-hb-form]"), part).to_be_visible()
        expect_untouched(page)
    assert faults == []


@pytest.mark.usefixtures("asleep")
@pytest.mark.parametrize("store", ["localStorage", "sessionStorage"])
def test_what_a_device_has_kept_is_only_text(visit, store):
    """Whatever lies in this device's memory, put there by whoever."""
    page = visit("calculators/gas_rate.html")
    expect(page.locator("hb-calculator [data-hb-form]")).to_be_visible()
    page.locator('hb-calculator [name="volume"]').fill("0.1")
    page.goto(page.url.replace("calculators/gas_rate", "procedures/burner_pressure"))
    page.locator("input[data-hb-tick]").first.check()
    page.evaluate(
        """([store, markup]) => { for (const key of Object.keys(window[store]))
            window[store].setItem(key, markup + window[store].getItem(key)) }""",
        [store, MARKUP],
    )
    for name in ("procedures/burner_pressure.html", "calculators/gas_rate.html"):
        page.goto(page.url.split("procedures")[0].split("calculators")[0] + name)
        expect(page.locator("main h1")).to_be_visible()
        expect_untouched(page)
