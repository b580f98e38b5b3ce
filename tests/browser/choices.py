"""A reading of which a word is chosen, as a reader handles it."""

from __future__ import annotations

from playwright.sync_api import Locator, Page, expect


def words(page: Page, name: str) -> Locator:
    return page.locator(f'li[data-hb-reading="{name}"]').first.get_by_role("radiogroup")


def choose(page: Page, name: str, word: str) -> None:
    words(page, name).get_by_role("radio", name=word, exact=True).check()


def take_out(page: Page, name: str) -> None:
    words(page, name).get_by_role("button", name="Take out").click()


def expect_chosen(page: Page, name: str, word: str) -> None:
    chosen = words(page, name).locator("input:checked")
    if word:
        expect(chosen).to_have_value(word)
    else:
        expect(chosen).to_have_count(0)
