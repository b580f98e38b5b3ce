"""Practice: questions drawn and marked on the page, and what is kept of them."""

from __future__ import annotations

import json

from playwright.sync_api import Page, expect

from calcs.practice import door
from tests.browser.accessibility import faults
from tests.browser.calculator_page import START_MS
from tests.browser.conftest import PHONE, NewPage, UsedPage, Warm
from tests.browser.practice_asked import ASK
from tests.calcs.practice.held import bridge, pack

PAGE = "practise/session.html"


def begun(new_page: NewPage, topic: str = "", **options: object) -> Page:
    return begin(new_page(PAGE, viewport=PHONE, **options), topic)


def begin(page: Page, topic: str = "") -> Page:
    if topic:
        page.locator("[data-hb-practice-topic]").select_option(topic)
    page.get_by_role("button", name="5 minutes").click()
    expect(page.locator("[data-hb-practice-stem]")).not_to_be_empty(timeout=START_MS)
    return page


def test_the_browser_draws_and_marks_as_cpython_does(warm: Warm) -> None:
    page = begin(warm(PAGE))
    held = pack()
    asked = [
        {"about": "question", "question": name, "seed": str(seed)}
        for seed, name in enumerate(sorted(held.questions))
    ]
    wanted = [door.reply(request, bridge()._reply) for request in asked if _held(held)]
    for request, reply, right in zip(asked, page.evaluate(ASK, asked), wanted, strict=True):
        assert reply == json.loads(json.dumps(right)), request
    an_order_that_breaks_pairs_is_told_each_with_its_reason(page)


def _held(held: object) -> bool:
    """Have the door of this Python hold the same questions."""
    made = {"questions": held.questions, "slips": held.slips, "topics": held.topics}
    door.load_held({**made, "today": held.today})
    return True


def test_a_session_is_done_by_keyboard_and_says_what_went_wrong(new_page: NewPage) -> None:
    # The last of the topic's templates, which asks for pascal.
    page = begun(
        new_page,
        "calculators/unit_converter",
        before=lambda page: page.add_init_script("Math.random = () => 0.999"),
    )
    expect(page.locator("[data-hb-practice-said]")).to_be_empty()
    page.locator("#hb-answer").focus()
    stem = page.locator("[data-hb-practice-stem]").inner_text()
    pressure = float(stem.split("are ")[1].split("\N{NO-BREAK SPACE}")[0])
    page.keyboard.type(f"{pressure * 10:g}")
    page.keyboard.press("Enter")
    said = page.locator("[data-hb-practice-said]")
    expect(said).to_have_attribute("data-state", "wrong")
    expect(said).to_contain_text(f"it is {pressure * 100:.0f}")
    expect(said).to_contain_text("You went by ten")
    # In this order: the slip, the lines, the reason, the page, and how to go on.
    text = page.locator("[data-hb-practice-run]").inner_text()
    places = [text.index(words) for words in ("You went by ten", "yours", "Why", "Read:", "Again")]
    assert places == sorted(places)
    assert faults(page) == []
    page.get_by_role("button", name="Again, other figures").click()
    expect(page.locator("[data-hb-practice-check]")).to_be_visible()
    expect(said).to_be_empty()


def test_what_is_kept_can_be_exported_and_cleared(warm: Warm) -> None:
    page = begin(warm(PAGE), "calculators/unit_converter")
    page.locator("#hb-answer").fill("1")
    page.get_by_role("button", name="Check it").click()
    page.get_by_role("button", name="End the session").click()
    topic = page.locator("[data-hb-practice-rows] > li")
    expect(topic).to_contain_text("not yet")
    with page.expect_download() as download:
        page.get_by_role("button", name="Export").click()
    kept = json.loads(download.value.path().read_text(encoding="utf-8"))
    assert [each["right"] for each in kept["answers"]] == [False]
    page.get_by_role("button", name="Clear", exact=True).click()
    page.get_by_role("button", name="Clear it all").click()
    expect(topic).to_have_count(0)


def an_order_that_breaks_pairs_is_told_each_with_its_reason(page: Page) -> None:
    reply = page.evaluate(
        ASK, [{"about": "question", "question": "order_set_pressure", "seed": "1"}]
    )
    assert len(reply[0]["practice"]["items"]) == 8
    given = {"order": [each["id"] for each in reply[0]["practice"]["items"]]}
    asked = {"about": "mark", "question": "order_set_pressure", "seed": "1", "given": given}
    told = page.evaluate(ASK, [asked])[0]["practice"]
    assert told["right"] is False
    assert all(pair["why"] for pair in told["broken"])


def test_without_a_script_examples_are_read(new_page: NewPage) -> None:
    page = new_page(PAGE, python=False, java_script_enabled=False, viewport=PHONE)
    expect(page.locator("noscript")).to_be_visible()
    expect(page.locator("[data-hb-practice-start]")).to_be_hidden()
    assert page.locator("#examples details").count() > 3


def test_no_other_page_carries_it(used_page: UsedPage) -> None:
    page = used_page("procedures/gas_rate.html")
    scripts = page.evaluate("[...document.scripts].map(({src}) => src)")
    assert not any("practice" in each for each in scripts)
    expect(page.get_by_role("link", name="Practise this")).to_have_attribute(
        "href", "../practise/session.html?topic=gas_rate"
    )


def test_an_instrument_is_read_and_typed_with_its_unit(new_page: NewPage) -> None:
    page = begun(
        new_page,
        "read",
        before=lambda page: page.add_init_script("Math.random = () => 0"),
        forced_colors="active",
    )
    drawing = page.locator("[data-hb-practice-sheet] svg")
    expect(drawing).to_be_visible()
    seen = drawing.inner_html()
    said = page.locator("[data-hb-practice-said]")
    page.locator("#hb-answer").fill("0.1")
    page.get_by_role("button", name="Check it").click()
    expect(said).to_contain_text("has a unit")
    page.locator(".hb-practice__field select").select_option(index=1)
    page.get_by_role("button", name="Check it").click()
    expect(said).to_have_attribute("data-state", "wrong")
    assert drawing.inner_html() != seen  # what has to be seen on it is marked
    # Who does not see it has the same before them.
    words = page.locator("[data-hb-practice-words]").text_content()
    assert drawing.get_attribute("aria-label") == words
    assert faults(page) == []


def test_the_recap_of_each_procedure_is_one_screen_of_a_phone(used_page: UsedPage) -> None:
    page = used_page("revise/recap.html", viewport=PHONE)
    heights = page.evaluate(
        """() => [...document.querySelectorAll('section.hb-block:not(#related)')].map((each) => {
            each.style.contentVisibility = 'visible';
            return [each.id, Math.ceil(each.getBoundingClientRect().height)];
        })"""
    )
    assert len(heights) > 15
    assert [each for each in heights if each[1] > PHONE["height"]] == []
    # The rule of thumb stands in where the instructions give no least pressure. Alone it would pass
    # for the limit.
    words = page.locator("#burner_pressure").inner_text()
    assert "18 mbar" not in words
    assert "Look up its figure" in words
    expect(page.locator("#gas_rate a", has_text="Practise this")).to_have_attribute(
        "href", "../practise/session.html?topic=gas_rate"
    )
    assert faults(page) == []
