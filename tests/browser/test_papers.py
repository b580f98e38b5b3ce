"""Papers: drawn by the browser as by CPython, sat by keyboard and touch, marked and printed."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import Page, expect

from calcs.practice import paper_reply
from tests.browser.conftest import NewPage
from tests.browser.practice_asked import ASK
from tests.browser.test_pages import faults
from tests.calcs.practice.held import pack
from tests.calcs.practice.test_papers import held

PAGE = "practise/papers.html?paper=pressure_and_input&seed=7"
PHONE = {"width": 390, "height": 844}
NO_PRINTER = "window.print = () => { window.printed = true; }"


def opened(new_page: NewPage, **options: Any) -> Page:
    def prepare(page: Page) -> None:
        page.add_init_script(NO_PRINTER)

    page = new_page(PAGE, viewport=PHONE, before=prepare, **options)
    expect(page.locator("[data-hb-papers-start]")).to_be_visible()
    return page


def sit(page: Page) -> None:
    page.get_by_role("button", name="Sit it here").click()
    expect(page.locator("[data-hb-papers-form]")).to_be_visible(timeout=60_000)


def here(about: str, **more: Any) -> Any:
    request = {"about": about, "paper": "pressure_and_input", "seed": "7", **more}
    return json.loads(json.dumps(paper_reply.reply(request, held(), pack())))["practice"]


def test_a_paper_is_sat_by_keyboard_and_marked_as_cpython_marks_it(new_page: NewPage) -> None:
    page = opened(new_page)
    sit(page)
    number = next(n for n, one in enumerate(here("paper")["asked"]) if one["asks"] == "number")
    for place in range(20):
        stem = page.locator("[data-hb-papers-stem]")
        expect(stem).to_be_focused()
        expect(page.locator("[data-hb-papers-where]")).to_contain_text(f"{place + 1} of 20")
        page.keyboard.press("Tab")
        if place == number:
            page.keyboard.type("82.4")
        elif page.locator("[data-hb-papers-field] input[type=radio]").count():
            page.keyboard.press("Space")
        page.locator("[data-hb-papers-next]").focus()
        page.keyboard.press("Enter")
        if place == number:  # what was typed is there again, also after a reload
            page.reload()
            sit(page)
            page.get_by_text("All questions").click()
            page.get_by_role("button", name=f"Question {number + 1}, answered").click()
            expect(page.locator("#hb-answer")).to_have_value("82.4")
            assert faults(page) == []
            page.locator("[data-hb-papers-next]").click()
    expect(page.locator("[data-hb-papers-said]")).to_contain_text("Not answered: ")
    given = page.evaluate("JSON.parse(localStorage.getItem('hb:paper')).given")
    page.get_by_role("button", name="Hand it in now").click()
    wanted = here("paper_marks", given=given)
    total = page.locator(".hb-papers__total")
    expect(total).to_have_text(f"{wanted['marks']} of {wanted['of']} marks")
    result = page.locator("[data-hb-papers-result]")
    numbers = [place + 1 for place, one in enumerate(wanted["asked"]) if one["unsafe"]]
    words = f"in question {', '.join(map(str, numbers))}." if numbers else "choices: none"
    expect(result).to_contain_text(words)
    heads = result.locator("summary").all_inner_texts()
    assert [head.rpartition(": ")[2].partition(",")[0] for head in heads] == [
        f"{one['marks']} of {one['of']}" for one in wanted["asked"]
    ]
    result.locator("summary").nth(number).click()
    expect(result).to_contain_text("Yours: 82.4")
    assert faults(page) == []
    _same_papers(page)


def _same_papers(page: Page) -> None:
    """The same papers from the browser's Python, with their answers."""
    requests = [
        {"about": "paper_key", "paper": name, "seed": seed}
        for seed, name in zip(("northmoor-w9", "7", "x9k2mp"), held(), strict=True)
    ]
    for request, reply in zip(requests, page.evaluate(ASK, requests), strict=True):
        wanted = paper_reply.reply(request, held(), pack())
        assert reply == json.loads(json.dumps(wanted)), request


def test_a_paper_is_printed_in_grey_with_and_without_answers_and_so_is_a_class(
    new_page: NewPage,
) -> None:
    page = opened(new_page)
    page.get_by_role("button", name="Print the questions").click()
    sheet = page.locator("[data-hb-papers-sheet]")
    expect(sheet).to_be_visible(timeout=60_000)
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
