"""A host's own pages in a browser, light and dark: axe finds nothing, and none is too wide."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, Playwright

from build_tools.bench.browser import chromium
from build_tools.setup.paths import ROOT
from build_tools.sources.problems import Problem

AXE = ROOT / "build_tools" / "web" / "node_modules" / "axe-core" / "axe.min.js"
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
PHONE = {"width": 390, "height": 844}
SCHEMES = ("light", "dark")
ASKED = {"runOnly": {"type": "tag", "values": TAGS}, "resultTypes": ["violations"]}
# What floats over a page is the handbook's own. axe takes its ground for that of what lies beneath.
# A part far down that was not drawn yet has the colours of no scheme.
LAID = """document.documentElement.classList.remove('hb-fresh');
for (const each of document.querySelectorAll('body *')) {
    if (/fixed|sticky/.test(getComputedStyle(each).position)) each.style.position = 'static';
}"""
WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


def tried(
    site: Path, pages: Mapping[str, str], playwright: Playwright | None = None
) -> list[Problem]:
    """What axe finds, each once.

    Args:
        site: A built site.
        pages: The file that each page comes from, by the page's address in the site.
        playwright: One that has been started; a process can have one at a time.
    """
    found: dict[tuple[str, str], Problem] = {}
    with chromium(site, playwright) as browser:
        page = browser.context.new_page()
        page.set_viewport_size(PHONE)  # type: ignore[arg-type]
        for address, file in pages.items():
            for scheme in SCHEMES:
                page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
                page.goto(browser.address + address)
                for rule, problem in _faults(page, file):
                    found.setdefault((rule, problem.found), problem)
    return [*found.values()]


def _faults(page: Page, file: str) -> Iterator[tuple[str, Problem]]:
    page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
    page.evaluate(LAID)
    # Evaluated from outside: the page's own policy stays.
    page.evaluate(f"{AXE.read_text('utf-8')}\n0")
    for fault in page.evaluate("asked => axe.run(document, asked)", ASKED)["violations"]:
        for node in fault["nodes"]:
            yield fault["id"], _problem(file, fault, node)
    if (over := page.evaluate(WIDE)) > 0:
        said = f"On a phone this page is {over:.0f} pixels too wide."
        fix = "shorten its longest word, or give a table fewer columns"
        yield "too-wide", Problem(file, 1, 1, "", said, "", fix)


def _problem(file: str, fault: Mapping[str, Any], node: Mapping[str, Any]) -> Problem:
    where = " ".join(str(node["html"]).split())[:120]
    mend = "; ".join(line.strip() for line in str(node["failureSummary"]).splitlines()[1:])
    return Problem(file, 1, 1, "", f"{fault['help']}: {where}", "", mend or str(fault["help"]))
