"""The search box as a reader opens it, and what it finds."""

from __future__ import annotations

from playwright.sync_api import Locator, Page

HITS = ".md-search-result a"


def opened_search(page: Page) -> Locator:
    """The field to search in, which a phone shows when asked."""
    button = page.get_by_role("button", name="Search")
    if button.is_visible():
        button.click()
    return page.get_by_role("searchbox")
