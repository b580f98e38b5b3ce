"""The ways to read a procedure, as a reader chooses them."""

from __future__ import annotations

from playwright.sync_api import Page

BURNER = "procedures/burner_pressure.html"


def choose(page: Page, way: str) -> None:
    page.locator(f'[data-hb-way-choice="{way}"]').click()
