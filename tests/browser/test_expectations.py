"""What a test is told that waits in vain: tests/web/expect_lightly.mjs leaves the drawing out."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import EMPTY, UsedPage


def test_an_expectation_that_is_not_met_says_what_was_found_and_does_not_write_the_page_down(
    used_page: UsedPage,
):
    page = used_page(EMPTY)
    heading = page.locator("h1")
    with pytest.raises(AssertionError) as told:
        expect(heading).to_have_text("words of another page", timeout=100)
    found = heading.text_content()
    assert found
    assert found in str(told.value)
    assert "words of another page" in str(told.value)
    assert "Aria" not in str(told.value)
    with pytest.raises(AssertionError) as told:
        expect(page.locator("#no-such-place")).to_be_visible(timeout=100)
    assert "Aria" not in str(told.value)
    assert found not in str(told.value)
