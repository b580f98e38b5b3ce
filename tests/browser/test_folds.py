"""What a procedure folds away: no warning and no stop, and no word of the page for learning."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect

from build_tools.sources.read_yaml import read_file
from tests.browser.conftest import PHONE, NewPage, UsedPage
from tests.browser.ways import BURNER, choose

ROOT = Path(__file__).parents[2]
STEMS = sorted(path.stem for path in (ROOT / "content/procedures").glob("*.yaml"))
# Words of the main part as they are laid out: what is folded is not among them.
WORDS = "() => document.querySelector('#hb-main').innerText.replace(/\\s+/g, ' ').toLowerCase()"
# What a page shows of each step: its warnings by kind, whether it is said to stop, its sign.
STEPS_SHOWN = """() => [...document.querySelectorAll('[data-hb-step]')].map((step) => ({
    ...Object.fromEntries(['stop', 'caution'].map((kind) => [kind,
        [...step.querySelectorAll(`.hb-warning--${kind}`)].map(
            (each) => each.checkVisibility({visibilityProperty: true}))])),
    stops: step.hasAttribute('data-hb-stops'),
    sign: getComputedStyle(step.querySelector(':scope > .hb-task__head'), '::after').content,
}))"""
# The line of a list that is folded; then, once it is open, whether each of its entries is shown.
HEAD = """id => [...document.querySelectorAll(`#${id} > [data-hb-fold-head]`)].map(
    (head) => head.innerText.replaceAll('\\n', ' '))"""
UNFOLDED = """id => {
    document.querySelector(`#${id} > [data-hb-fold-head] button`).click();
    return [...document.querySelectorAll(`#${id} :is(.hb-list > li, .hb-warning p)`)].map(
        (each) => each.checkVisibility({visibilityProperty: true}));
}"""


@pytest.mark.parametrize("stem", STEMS)
def test_what_stops_or_warns_is_in_no_fold(used_page: UsedPage, stem: str):
    """Each stop and caution of a step stands, each list has its line, each `if` that stops a sign.

    What there is comes from the file of the procedure, not from its page.
    """
    path = f"content/procedures/{stem}.yaml"
    file = read_file(ROOT / path, path).value
    page = used_page(f"procedures/{stem}.html", PHONE)
    choose(page, "working")
    shown = page.evaluate(STEPS_SHOWN)
    for step, seen in zip(file.get("steps", []), shown, strict=True):
        for kind in ("stop", "caution"):
            assert seen[kind] == [True] * int(kind in step), step["id"]
        stops = any(each.get("stops") == "true" for each in step.get("if", ()))
        assert seen["stops"] == stops, step["id"]
        assert (seen["sign"] != "none") == stops, step["id"]
    for kind in ("stop", "cautions"):
        heads = page.evaluate(HEAD, kind)
        assert len(heads) == int(kind in file)
        if kind in file:
            # A term of the glossary is linked, and the words are the same.
            assert file[f"{kind}_short"] in heads[0]
            entries = page.evaluate(UNFOLDED, kind)
            assert entries == [True] * len(entries) != []


def test_without_a_script_and_for_learning_no_word_is_folded(
    new_page: NewPage, used_page: UsedPage
):
    bare = new_page(BURNER, python=False, java_script_enabled=False)
    step = bare.locator("#step-found-maximum")
    for words in (".hb-task__why", ".hb-limit", ".hb-task__ifs", ".hb-diagram", ".hb-blank"):
        expect(step.locator(words).first).to_be_visible()
    expect(bare.locator("#applies-to")).to_be_visible()
    expect(bare.locator("#stop .hb-warning")).to_be_visible()
    for only_with_script in (".hb-ways", ".hb-short", ".hb-foot"):
        assert [each.is_visible() for each in bare.locator(only_with_script).all()].count(True) == 0
    learning = used_page(BURNER)
    expect(learning.locator("#step-found-maximum .hb-task__why")).to_be_visible()
    tops = [
        learning.locator(f"#step-found-maximum {each}").first.bounding_box()["y"]  # type: ignore[index]
        for each in (".hb-task__why", ".hb-limit", "[data-hb-reading]", ".hb-task__ifs")
    ]
    assert tops == sorted(tops)


def test_paper_has_the_page_for_learning(used_page: UsedPage):
    page = used_page(BURNER)
    page.emulate_media(media="print")
    learning = page.evaluate(WORDS)
    page.emulate_media(media="screen")
    choose(page, "working")
    assert page.evaluate(WORDS) != learning
    page.emulate_media(media="print")
    assert page.evaluate(WORDS) == learning


def test_steps_without_a_part_never_fold(used_page: UsedPage):
    page = used_page("procedures/which_checks_apply.html", PHONE)
    choose(page, "working")
    for tick in page.locator("[data-hb-tick]").all():
        tick.check()
    page.reload()
    expect(page.locator("[data-hb-step]").first).to_be_visible()
