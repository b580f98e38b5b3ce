"""Papers: drawn by the browser as by CPython, sat by keyboard and touch, printed and saved."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from playwright.sync_api import Page, expect

from calcs.practice import paper_reply, papers
from calcs.practice.exports import forms
from tests.browser.accessibility import faults
from tests.browser.calculator_page import START_MS
from tests.browser.conftest import PHONE, NewPage, Warm
from tests.browser.papers_page import NO_PRINTER, PAGE, SIDE, here, opened, sit
from tests.browser.practice_asked import ASK
from tests.calcs.practice.held import held, pack


def forty(about: str, **more: Any) -> Any:
    return here(about, paper="whole_visit", seed=seed_with("zero_and_read"), **more)


@cache
def seed_with(name: str) -> str:
    """A seed whose paper of forty has a question."""
    mix, questions = held()["whole_visit"]["mix"], pack().questions
    return next(
        seed for seed in map(str, range(500)) if name in papers.picked(mix, questions, seed)
    )


def tab_to(page: Page, selector: str) -> None:
    """The key that goes on, until what is wanted has the focus."""
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("wanted => document.activeElement.matches(wanted)", selector):
            return
    raise AssertionError(f"{selector} is not reached by keyboard")


def stands(page: Page, place: int) -> None:
    """Whether that question is there to be answered."""
    expect(page.locator("[data-hb-papers-where]")).to_contain_text(f"{place + 1} of 40")


def tabs(page: Page, times: int) -> None:
    for _ in range(times):
        page.keyboard.press("Tab")


def before_field(one: Any) -> int:
    """What the key that goes on stops at before the answer: acts on a gauge, its words."""
    drawing = one.get("drawing", {})
    return len(drawing) > 0 and 1 + 2 * ("live" in drawing)


def marked_as_here(page: Page, given: Any) -> Any:
    """What CPython says to a paper, once the page says the same."""
    wanted = forty("paper_marks", given=given)
    total = page.locator(".hb-papers__total")
    expect(total).to_have_text(f"{wanted['marks']} of {wanted['of']} marks", timeout=START_MS)
    heads = page.locator("[data-hb-papers-result] summary").all_inner_texts()
    assert [head.rpartition(": ")[2].partition(",")[0] for head in heads] == [
        f"{one['marks']} of {one['of']}" for one in wanted["asked"]
    ]
    return wanted


def given_on(page: Page) -> Any:
    return page.evaluate("JSON.parse(localStorage.getItem('hb:paper')).given")


def test_a_paper_of_forty_is_sat_by_keyboard_alone_and_then_by_touch(new_page: NewPage) -> None:
    address = f"practise/papers.html?paper=whole_visit&seed={seed_with('zero_and_read')}"
    page = opened(new_page, address, has_touch=True)
    asked = forty("paper")["asked"]
    number = next(at for at, one in enumerate(asked) if one["asks"] == "number")
    _by_keyboard(page, asked, number)
    wanted = marked_as_here(page, _handed_in_by_keyboard(page))
    result = page.locator("[data-hb-papers-result]")
    numbers = [place + 1 for place, one in enumerate(wanted["asked"]) if one["unsafe"]]
    words = f"in question {', '.join(map(str, numbers))}." if numbers else "choices: none"
    expect(result).to_contain_text(words)
    result.locator("summary").nth(number).click()
    expect(result).to_contain_text("Yours: 82.4")
    assert faults(page) == []
    _same_papers(page)
    page.get_by_role("button", name="Another paper").tap()
    _by_touch_with_large_text(page, asked)


def _by_keyboard(page: Page, asked: list[Any], number: int) -> None:
    tab_to(page, "#hb-papers-seed")
    page.keyboard.press("Enter")
    expect(page.locator("[data-hb-papers-form]")).to_be_visible(timeout=START_MS)
    for place, one in enumerate(asked):
        stands(page, place)
        tabs(page, before_field(one) + 1)
        if one["asks"] in {"number", "read"}:
            page.keyboard.type("82.4")
        else:  # of an order, the first step stays first: that counts
            page.keyboard.press("Space")
        if one["asks"] == "order":
            tabs(page, 2 * len(one["items"]) + (place > 0))
        page.keyboard.press("Enter")
        if place == number:  # what was typed is there again, also after a reload
            stands(page, place + 1)
            page.reload()
            sit(page)
            page.get_by_text("All questions").click()
            page.get_by_role("button", name=f"Question {number + 1}, answered").click()
            expect(page.locator("#hb-answer")).to_have_value("82.4")
            assert faults(page) == []
            page.locator("[data-hb-papers-next]").click()


def _handed_in_by_keyboard(page: Page) -> Any:
    expect(page.locator("[data-hb-papers-said]")).to_contain_text("All are answered.")
    expect(page.locator("[data-hb-papers-now]")).to_be_focused()
    given = given_on(page)
    assert len(given) == 40
    page.keyboard.press("Enter")
    return given


def _by_touch_with_large_text(page: Page, asked: list[Any]) -> None:
    """By finger, found by role and name, with text twice as large and colours forced."""
    page.emulate_media(forced_colors="active")
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    page.get_by_role("textbox", name="Seed").fill(seed_with("zero_and_read"))
    page.get_by_role("button", name="Sit it here").tap()
    stands(page, 0)
    expect(page.locator("[data-hb-papers-all]")).to_have_attribute("open", "")  # as it was left
    for place, one in _one_of_each_kind(asked).items():
        page.get_by_role("button", name=f"Question {place + 1}, ").tap()
        stands(page, place)
        if one["id"] == "zero_and_read":
            _zeroed_and_read(page)
        elif one["asks"] in {"number", "read"}:
            page.get_by_role("textbox", name="Your answer").fill("1")
        elif one["asks"] == "order":
            page.get_by_role("button", name="Down: ").first.tap()
        else:
            role: Any = "checkbox" if one["asks"] == "choose_all" else "radio"
            page.get_by_role(role).last.tap()
        assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], one["id"]
    page.get_by_role("button", name="Hand it in", exact=True).tap()
    expect(page.locator("[data-hb-papers-said]")).to_contain_text("Not answered: ")
    given = given_on(page)
    assert len(given) == len(_one_of_each_kind(asked)) > 5
    page.get_by_role("button", name="Hand it in now").tap()
    wanted = {one["id"]: one["marks"] for one in marked_as_here(page, given)["asked"]}
    assert wanted["zero_and_read"] == 1


def _one_of_each_kind(asked: list[Any]) -> dict[int, Any]:
    """The first question of each kind, by its place, and the gauge that is zeroed."""
    kinds = {one["asks"]: (place, one) for place, one in reversed([*enumerate(asked)])}
    live = [(place, one) for place, one in enumerate(asked) if one["id"] == "zero_and_read"]
    return dict([*kinds.values(), *live])


def _zeroed_and_read(page: Page) -> None:
    """The live gauge: zeroed, put on, and read from what a screen reader is told."""
    told = page.locator("[data-hb-practice-sheet] [role=status]")
    page.get_by_role("button", name="Zero it").tap()
    expect(told).to_contain_text("the display shows 0.0 mbar")
    page.get_by_role("button", name="Push the tube on").tap()
    expect(page.get_by_role("button", name="Pull the tube off")).to_be_focused()
    expect(told).to_contain_text("On the test point: the display shows")
    shows = told.inner_text().partition("shows ")[2].split()[0]
    picture = page.get_by_role("img", name="On the test point")
    expect(picture).to_have_accessible_name(told.inner_text())
    page.get_by_role("textbox", name="Your answer").fill(shows)
    page.get_by_role("combobox", name="Unit").select_option("mbar")


def _same_papers(page: Page) -> None:
    """The same papers from the browser's Python, with their answers."""
    requests = [
        {"about": "paper_key", "paper": name, "seed": seed}
        for seed, name in zip(("northmoor-w9", "7", "x9k2mp"), held(), strict=True)
    ]
    for request, reply in zip(requests, page.evaluate(ASK, requests), strict=True):
        wanted = paper_reply.reply(request, held(), pack())
        assert reply == json.loads(json.dumps(wanted)), request


def test_a_paper_is_printed_in_grey_with_and_without_answers_and_so_is_a_class(warm: Warm) -> None:
    page = warm(PAGE)
    page.set_viewport_size(PHONE)
    page.evaluate(f"window.printed = false; {NO_PRINTER}")
    page.get_by_role("button", name="Print the questions").click()
    sheet = page.locator("[data-hb-papers-sheet]")
    expect(sheet).to_be_visible(timeout=START_MS)
    assert page.evaluate("window.printed") is True
    made = here("paper_key")
    lines = sheet.locator(".hb-papers__asked > li")
    expect(lines).to_have_count(20)
    pictures = sum("drawing" in one for one in made["asked"])
    assert pictures > 0
    expect(lines.locator("svg")).to_have_count(pictures)
    assert page.evaluate("new URL(location.href).searchParams.get('seed')") == "7"
    answers = [one["answer"] for one in made["asked"] if one["working"]]
    assert not any(answer in sheet.inner_text() for answer in answers)
    page.emulate_media(media="print")
    assert lines.first.evaluate("li => getComputedStyle(li).breakInside") == "avoid"
    # Marks of a scale stand 10 units apart and more: 1.5 mm of paper, at 96 px to the inch.
    scale = "svg => svg.getBoundingClientRect().width / svg.viewBox.baseVal.width"
    assert lines.locator("svg").first.evaluate(scale) * 10 >= 1.5 * 96 / 25.4
    for name in ("#mixes", "[data-hb-papers-start]", "[data-hb-papers-print]", ".hb-top"):
        expect(page.locator(name)).to_be_hidden()
    page.emulate_media(media="screen")
    page.get_by_role("button", name="Close").click()
    page.get_by_role("button", name="Print with answers").click()
    expect(sheet.locator("h2")).to_have_text("Pressure and input: answers")
    text = sheet.inner_text().replace("\N{NO-BREAK SPACE}", " ")
    assert all(answer.replace("\N{NO-BREAK SPACE}", " ") in text for answer in answers)
    marked = sum(len(one["marked"]) for one in made["asked"] if len(one["marked"]) > 1)
    assert text.count("[1]") == marked
    page.get_by_role("button", name="Close").click()
    page.get_by_text("For a class").click()
    page.get_by_role("button", name="Print the tutor's sheet").click()
    seeds = here("class", count="24")["seeds"]
    expect(sheet.locator("code")).to_have_text(seeds)
    page.emulate_media(media="print")
    assert len(SIDE.findall(page.pdf(prefer_css_page_size=True, format="A4"))) == 1
    page.emulate_media(media="screen")
    page.get_by_role("button", name="Close").click()
    page.get_by_label("Candidates").fill("2")
    page.get_by_role("button", name="Print every paper").click()
    papers_of_class = sheet.locator(".hb-papers__one")
    expect(papers_of_class).to_have_count(2, timeout=START_MS)
    for place, seed in enumerate(seeds[:2]):
        expect(papers_of_class.nth(place)).to_contain_text(seed)
    begins = "one => getComputedStyle(one).breakBefore"
    assert papers_of_class.nth(1).evaluate(begins) == "page"
    page.get_by_role("button", name="Close").click()
    _saved_for_platforms(page)


def _saved_for_platforms(page: Page) -> None:
    """Each form as the command line writes it, byte for byte, with no network."""
    page.context.set_offline(True)
    page.get_by_text("For a learning platform", exact=True).click()
    choice = page.get_by_label("What it takes")
    edition = page.locator("meta[name=hb-edition]").get_attribute("content") or ""
    paper = forms.drawn(held()["pressure_and_input"], "7", edition, pack())
    for form, (ending, write) in forms.FORMS.items():
        choice.select_option(form)
        with page.expect_download() as download:
            page.get_by_role("button", name="Save the file").click()
        name = f"pressure_and_input-7-{form}{ending}"
        assert download.value.suggested_filename == name
        assert download.value.path().read_bytes() == write(paper), form
        expect(page.locator("[data-hb-papers-file]")).to_have_text(f"Saved: {name}")
    assert choice.locator("option").count() == len(forms.FORMS)
    page.context.set_offline(False)


def test_what_can_not_be_done_is_said_with_a_way_on(new_page: NewPage) -> None:
    def without_questions(page: Page) -> None:
        page.route("**/practice-questions.js", lambda route: route.fulfill(body=""))

    page = new_page(
        "practise/papers.html?paper=whole_visit&seed=x&edition=2026-01-01-0000000",
        before=without_questions,
        viewport=PHONE,
    )
    expect(page.locator("[data-hb-papers-edition]")).to_contain_text("another edition")
    expect(page.locator("[data-hb-papers-paper]")).to_have_value("whole_visit")
    page.get_by_role("button", name="Sit it here").click()
    said = page.locator("[data-hb-papers-said]")
    expect(said).to_contain_text("The questions are not on this device.")
    said.get_by_role("button", name="Back").click()
    expect(page.locator("[data-hb-papers-start]")).to_be_visible()


def test_without_a_script_it_is_said_what_each_paper_holds(new_page: NewPage) -> None:
    page = new_page(PAGE, python=False, java_script_enabled=False, viewport=PHONE)
    expect(page.locator("#paper noscript")).to_be_visible()
    expect(page.locator("[data-hb-papers-start]")).to_be_hidden()
    expect(page.locator("#mixes details")).to_have_count(3)
