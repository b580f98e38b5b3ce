"""Figures from the reader's own copy: typed once, used at every visit, taken along, deleted."""

from __future__ import annotations

import json
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from tests.browser.choices import choose
from tests.browser.conftest import PATIENCE_MS, PHONE, STORAGE_FULL, NewPage, UsedPage, calculators
from tests.browser.record_page import field, keep, keep_open, move

PAGE = "own/your_own.html"
DROP = "permissible_drop_natural_gas"  # an invented 3 mbar, to 0.02 m³, is typed for it here
PERCEPTIBLE = "tightness.perceptible.digital_gauge_1dp"
FLUID = "tightness.perceptible.water_gauge"
EDITION_3, EDITION_4 = "IGEM/UP/1B Edition 3", "IGEM/UP/1B Edition 4"


def line(page: Page, name: str = DROP) -> Locator:
    return page.locator(f'[data-hb-own="{name}"]')


def put(page: Page, drop: str, volume: str = "0.02") -> None:
    """The first row of the table."""
    for place, text in enumerate((volume, drop)):
        line(page).locator("input").nth(place).fill(text)
        line(page).locator("input").nth(place).press("Tab")


def expect_put(page: Page, drop: str) -> None:
    expect(line(page).locator("input").nth(1)).to_have_value(drop)


def test_a_figure_is_typed_once_and_a_step_is_judged_by_it(new_page: NewPage):
    page = new_page(PAGE, viewport=PHONE)
    put(page, "3")
    said = line(page).locator(".hb-kept")
    expect(said).to_contain_text("Used wherever it is asked for")
    # A figure goes by the edition that it was read in.
    moved = line(page, PERCEPTIBLE)
    moved.locator("input").fill("0.2")
    moved.locator("select").select_option(EDITION_3)
    expect(moved.locator(".hb-kept")).to_contain_text(f"Laid aside: {EDITION_4} is in force")
    moved.locator("select").select_option(EDITION_4)
    expect(moved.locator(".hb-kept")).to_contain_text("Used wherever it is asked for")
    put(page, "three")
    expect(said).to_contain_text("must be a number")
    put(page, "3")
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    page.reload()
    expect_put(page, "3")

    move(page, "procedures/which_checks_apply.html", "Which checks apply")
    existing = '[data-hb-checks-question="age"] input[value="existing"]'
    page.locator(existing).check(force=True)
    move(page, "tightness_test.html", "Test the pipework for tightness")
    for name, text in {
        "pipework.installation_volume": "0.0136",
        "tightness.let_by_start": "8.0",
        "tightness.let_by_end": "8.0",
        "tightness.test_start": "20.5",
        "tightness.elapsed": "2",
    }.items():
        keep(page, name, text)
    # Its card has the figure in place of "look there", as the reader's own.
    card = page.locator(f'[data-hb-own-stated="{PERCEPTIBLE}"]').first
    expect(card).to_contain_text(f"0.2\xa0mbar · your own copy, {EDITION_4}, typed on ")
    other = page.locator(f'[data-hb-own-stated="{FLUID}"]').first
    expect(other).to_contain_text("Type it from your own copy.")
    for name, word in {"tightness.smell": "no smell", "pipework.appliances": "connected"}.items():
        choose(page, name, word)
    # 20.5 − 16.5 = 4.0, and 3 was typed.
    field(page, "tightness.test_end").fill("16.5")
    outcome = page.locator('[data-hb-outcome="tightness_test.end_reading"]')
    expect(outcome).to_have_attribute("data-state", "outside")
    # Of an edition that is not in force it is no figure.
    page.evaluate(
        "([was, now]) => localStorage.setItem('hb:own', "
        "localStorage.getItem('hb:own').replaceAll(was, now))",
        [EDITION_4, EDITION_3],
    )
    page.reload()
    expect(card).to_contain_text(f"Yours from {EDITION_3}: Laid aside: {EDITION_4} is in force")
    expect(card).not_to_contain_text("0.2")


def test_figures_are_taken_along_and_deleted(used_page: UsedPage):
    page = used_page(PAGE)
    put(page, "3")
    with page.expect_download() as download:
        page.locator("[data-hb-own-export]").click()
    text = Path(download.value.path()).read_text("utf-8")
    [figure] = json.loads(text)["figures"]
    assert (figure["name"], figure["edition"]) == (DROP, EDITION_4)
    assert figure["rows"] == [["0.02 m³", "3 mbar"]]
    page.locator("[data-hb-own-clear]").click()
    page.locator("[data-hb-own-clear-now]").click()
    expect_put(page, "")
    said = page.locator("[data-hb-own-said]")
    for spoilt, words in {
        text[:20]: "The file is not whole",
        "{}": "This is no file of this page",
        text.replace('"version": 1', '"version": 2'): "A newer handbook wrote it",
        text.replace('"at"', '"when"'): "figures[0].at: found nothing",
        text: "Imported: 1 of 1 figures and instruments.",
    }.items():
        file = {"name": "a.json", "mimeType": "application/json", "buffer": spoilt.encode()}
        page.locator("[data-hb-own-import]").set_input_files(files=[file])  # type: ignore[list-item]
        expect(said).to_contain_text(words)
    expect_put(page, "3")


def wait_until(page: Page, expression: str) -> None:
    """The policy of the pages keeps the browser's own waiting from running."""
    for _ in range(PATIENCE_MS // 100):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(100)
    raise AssertionError(expression)


def test_python_is_asked_only_when_what_a_visit_was_judged_by_has_changed(new_page: NewPage):
    page = new_page("record/visit.html")
    keep_open(page, "plate.burner_pressure_max", "12.5")
    keep_open(page, "burner_pressure.found_max", "12.4")
    lines = page.locator('[data-hb-list="outcomes"] li, [data-hb-line-outcome]')
    expect(lines.first).to_contain_text("Within", timeout=PATIENCE_MS)
    digest = "localStorage.getItem('hb:judged')"
    wait_until(page, digest)
    judged = page.evaluate(digest)
    # A plate reading has no outcome of its own, and none is missed on the next page.
    page.reload()
    page.wait_for_timeout(1500)
    assert (calculators(page), page.evaluate(digest)) == ([], judged)
    # With another copy it is judged anew.
    copy = {"name": PERCEPTIBLE, "value": "0.3 mbar", "edition": EDITION_4, "at": "2026-11-28"}
    page.evaluate("text => localStorage.setItem('hb:own', text)", json.dumps({"figures": [copy]}))
    page.reload()
    wait_until(page, f"{digest} !== {json.dumps(judged)}")
    assert len(calculators(page)) == 1


def test_what_cannot_be_kept_is_said(new_page: NewPage):
    page = new_page(PAGE, python=False, before=lambda page: page.add_init_script(STORAGE_FULL))
    put(page, "3")
    expect(page.locator("[data-hb-own-error]")).to_contain_text("Not kept")
