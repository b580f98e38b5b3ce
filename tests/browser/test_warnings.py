"""Warnings stand where they are met: before the work on a screen, and on paper too."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, TABLET, UsedPage

CAUTION = ".hb-warning--caution"


def top(page: Page, place: str) -> float:
    """How far down the page something begins."""
    box: Any = page.locator(place).first.bounding_box()
    return float(box["y"])


@pytest.mark.parametrize("viewport", [PHONE, TABLET], ids=["phone", "tablet"])
def test_home_says_first_what_to_do_when_gas_is_smelt(used_page: UsedPage, viewport):
    page = used_page("index.html", viewport=viewport)
    acts: Any = page.locator("#stop .hb-list").bounding_box()
    assert acts["y"] + acts["height"] <= viewport["height"]  # whole, before anyone scrolls
    assert acts["y"] < top(page, "#wants")
    page.get_by_role("link", name="Deal with an unsafe situation").first.click()
    expect(page.locator("h1")).to_have_text("Deal with an unsafe situation")


@pytest.mark.parametrize("stem", ["tightness_test", "burner_pressure", "which_checks_apply"])
def test_a_procedure_begins_with_when_to_stop_and_what_can_hurt(used_page: UsedPage, stem):
    page = used_page(f"procedures/{stem}.html", viewport=PHONE)
    assert top(page, "#stop") < PHONE["height"]
    assert top(page, "#stop") < top(page, "#cautions") < top(page, "#purpose")
    page.set_viewport_size(TABLET)  # type: ignore[arg-type]
    assert top(page, "#cautions") == top(page, "#stop") < TABLET["height"] / 2


@pytest.mark.parametrize("stem", ["tightness_test", "thermistor", "working_pressure"])
def test_what_counts_before_touching_stands_above_the_form(used_page: UsedPage, stem):
    page = used_page(f"calculators/{stem}.html", viewport=PHONE)
    box: Any = page.locator(".hb-brief " + CAUTION).bounding_box()
    assert box["y"] + box["height"] < top(page, "#work-it-out")
    assert box["y"] < PHONE["height"]


@pytest.mark.parametrize("stem", ["start_up_sequences", "instruments"])
def test_a_reference_page_begins_with_what_can_hurt(used_page: UsedPage, stem):
    page = used_page(f"reference/{stem}.html", viewport=PHONE)
    assert top(page, CAUTION) < PHONE["height"]
    assert top(page, CAUTION) < top(page, ".hb-block")


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("record/visit.html", "not a certificate"),
        ("procedures/tightness_test.html", "Exposed metal pipework can be live"),
        ("calculators/tightness_test.html", "safe to touch before you handle it"),
        ("reference/instruments.html", "before you touch them"),
    ],
)
def test_paper_keeps_the_caution(used_page: UsedPage, path, words):
    page = used_page(path, media="print")
    expect(page.locator(CAUTION, has_text=words).first).to_be_visible()


def test_the_blank_form_keeps_the_caution(used_page: UsedPage):
    page = used_page("record/visit.html")
    page.evaluate("window.print = () => {}")
    page.locator('[data-hb-export="blank"]').evaluate("button => button.click()")
    page.emulate_media(media="print")
    expect(page.locator(CAUTION).first).to_be_visible()


@pytest.mark.parametrize(
    ("stem", "part"), [("burner_pressure", "Maximum"), ("gas_air_ratio", "hrottle")]
)
def test_a_drawing_of_a_valve_says_under_it_that_valves_differ(used_page: UsedPage, stem, part):
    page = used_page(f"procedures/{stem}.html", viewport=PHONE)
    drawings = page.locator("figure", has=page.locator("svg", has_text=part))
    captions = drawings.locator("figcaption", has_text="Valves differ. The instructions")
    assert captions.count() > 1
    for caption in captions.all():
        expect(caption).to_be_visible()
