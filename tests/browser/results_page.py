"""The page of how a class did: what it shows, and what the command says of the same files."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

from build_tools.for_hosts.class_results import results
from tests.calcs.practice.class_files import PAPER
from tests.calcs.practice.held import held, pack


def told(files: dict[str, str]) -> Any:
    given = [{"name": name, "text": text} for name, text in files.items()]
    found, problems = results(PAPER, given, pack(), held())
    assert problems == []
    return found


def shown(page: Page) -> list[list[str]]:
    """The table of questions: title, right, wrong, left out, unsafe."""
    rows: list[list[str]] = page.locator(".hb-results__table--wide tbody tr").evaluate_all(
        "rows => rows.map((row) => [...row.cells].slice(0, 5).map((cell) => cell.textContent))"
    )
    return rows


def head(page: Page) -> Any:
    return page.locator("[data-hb-results-shown] h3")
