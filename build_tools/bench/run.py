"""The command `bench`: what the handbook is held to, measured in one run on one machine.

Usage: python3 build_tools/start.py bench [--repeats 9] [--json FILE] [--site FOLDER]
"""

import sys
from collections.abc import Iterator, Mapping
from json import dumps
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from playwright.sync_api import Playwright, sync_playwright

from build_tools.bench import (
    building,
    edition_size,
    first_answer,
    four_calculators,
    keystrokes,
    long_visit,
    overlay_check,
    practice,
    readable,
    ready,
    steps,
    stock,
    sums,
    visits_told_apart,
    without_network,
)
from build_tools.bench.browser import NoChromium, chromium
from build_tools.bench.measurement import Figure, table
from build_tools.setup.paths import ROOT

REPEATS = 7
SITE = ROOT / ".cache" / "bench" / "site"


def main(repeats: int | None, json: Path | None, site: Path | None) -> int:
    """Build the site, measure, print each figure. Status 1 where a ratio is not reached.

    Args:
        repeats: How often each start is measured.
        json: Where to write the figures.
        site: One that was built before.
    """
    figures = []
    try:
        for figure in measure(site or _built(), repeats or REPEATS):
            print("\n".join(table([figure])), flush=True)  # it takes minutes: show what is known
            figures.append(figure)
    except NoChromium as missing:
        print(missing, file=sys.stderr)
        return 1
    if json:
        text = dumps(as_json(figures), indent=1, ensure_ascii=False) + "\n"
        json.write_text(text, encoding="utf-8", newline="\n")
        print(f"\nWritten to {json}.")
    return 0 if all(figure.is_reached for figure in figures) else 1


def measure(site: Path, repeats: int) -> Iterator[Figure]:
    """Every figure of a built site, each as soon as it is known."""
    with TemporaryDirectory(ignore_cleanup_errors=True) as scratch:
        plain = stock.make(site, Path(scratch))
        plain.build()
        with sync_playwright() as playwright, chromium(site, playwright) as browser:
            yield from first_answer.measure(browser, repeats)
            yield from four_calculators.measure(browser, playwright, repeats)
            yield from ready.measure(browser, repeats)
            yield from sums.measure(browser)
            yield from keystrokes.measure(browser, playwright, site)
            yield from practice.measure(browser)
            yield from _of_visits(site, playwright)
            yield from edition_size.measure(site)
            yield from readable.measure(browser, playwright, site, plain, repeats)
            yield from without_network.measure(browser, playwright, site, repeats)
        yield from building.measure(plain)
        yield from overlay_check.measure(plain)
        yield from visits_told_apart.measure()


def _of_visits(site: Path, playwright: Playwright) -> Iterator[Figure]:
    """In a profile of their own: what it keeps would stand in the forms of the others."""
    with chromium(site, playwright) as browser:
        yield from steps.measure(browser)
        yield from long_visit.measure(browser)


def as_json(figures: list[Figure]) -> Mapping[str, Any]:
    """The figures for a program to read."""
    return {"figures": [figure.as_json() for figure in figures]}


def _built() -> Path:
    from build_tools.site.build_site import build  # noqa: PLC0415  a site that is given needs no build

    build(SITE)
    return SITE
