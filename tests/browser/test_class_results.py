"""How a class did: files that learners saved, dropped by a lecturer who has the site alone.

What the page tells is held against what the command tells of the same files.
"""

from __future__ import annotations

import csv
import re
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from calcs.practice import papers
from tests.browser.accessibility import faults
from tests.browser.calculator_page import START_MS
from tests.browser.conftest import PHONE, NewPage, Warm
from tests.browser.papers_page import NO_PRINTER, SIDE
from tests.browser.results_page import head, shown, told
from tests.calcs.practice.class_files import PAPER, SEEDS, drawn, right, saved, wrongly

PAGE = "practise/results.html"
DROP = """async (files) => {
    const data = new DataTransfer();
    for (const [name, text] of files) data.items.add(new File([text], name));
    const place = document.querySelector('.hb-page');
    for (const type of ['dragover', 'drop']) {
        place.dispatchEvent(new DragEvent(type, {dataTransfer: data, cancelable: true,
            bubbles: true}));
    }
}"""


def class_of(count: int) -> dict[str, str]:
    """Files of a class that sat one paper: the n-th has n answers wrong, and the last open."""
    asked = drawn(SEEDS[0])
    found = {}
    for number in range(count):
        wrong = {each.id: wrongly(each) for each in asked[: number % len(asked)]}
        given = {**right(SEEDS[0]), **wrong}
        del given[asked[-1].id]
        found[f"a-learner-{number}.json"] = saved(given, sitting=f"sitting{number:03}")
    return found


def chosen(page: Page, files: dict[str, str | bytes]) -> None:
    payload: Any = [
        {
            "name": name,
            "mimeType": "application/json",
            "buffer": text.encode() if isinstance(text, str) else text,
        }
        for name, text in files.items()
    ]
    page.get_by_label("Files of answers").set_input_files(payload)


def as_page(found: Any) -> list[list[str]]:
    return [
        [
            *(f"{one['number']}. {one['title']}", f"{one['right']} of {one['sat']}"),
            *(str(one[key]) for key in ("wrong", "left_open", "unsafe")),
        ]
        for one in found["questions"]
    ]


def lecturer(new_page: NewPage, path: str = PAGE, **options: Any) -> Page:
    return opened_results(new_page, path, **options)


def opened_results(new_page: NewPage, path: str, **options: Any) -> Page:
    def prepare(page: Page) -> None:
        page.add_init_script(NO_PRINTER)

    page = new_page(path, before=prepare, **options)
    expect(page.locator("[data-hb-results-form]")).to_be_visible()
    return page


def test_a_class_of_24_is_told_as_the_command_tells_it_printed_and_saved(
    new_page: NewPage, tmp_path: Path
) -> None:
    page = lecturer(new_page)
    files = class_of(24)
    sent: list[str] = []
    page.on("request", lambda asked: sent.append(asked.method + (asked.post_data or "")))
    page.evaluate(DROP, list(files.items()))
    expect(head(page)).to_have_text("Pressure and input: 24 papers", timeout=START_MS)
    expect(head(page)).to_be_focused()
    found = told(files)
    assert shown(page) == as_page(found)
    text = page.locator("[data-hb-results-shown]").inner_text()
    assert f"{found['reached']} of 24 reached the pass mark: 70 %" in text
    assert "Numbers are those of the paper." in text
    assert all(f"They {one['say']}" in text for one in found["slips"])
    assert "learner" not in text.lower()
    assert faults(page) == []
    page.get_by_role("button", name="Print").click()
    assert page.evaluate("window.printed") is True
    page.emulate_media(media="print")
    assert len(SIDE.findall(page.pdf(prefer_css_page_size=True, format="A4"))) <= 2
    for name in ("[data-hb-results-form]", "#about", ".hb-practice__acts"):
        expect(page.locator(name).first).to_be_hidden()
    page.emulate_media(media="screen")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as CSV").click()
    file = tmp_path / "class.csv"
    download.value.save_as(file)
    with file.open(encoding="utf-8-sig", newline="") as opened_file:
        rows = [*csv.DictReader(opened_file)]
    questions = [row for row in rows if row["What"] == "Question"]
    keys = ("Name", "Asked", "Right", "Wrong", "Left out", "Unsafe")
    assert [[row[key] for key in keys] for row in questions] == [
        [
            *(one["title"], str(one["sat"]), str(one["right"])),
            *(str(one[key]) for key in ("wrong", "left_open", "unsafe")),
        ]
        for one in found["questions"]
    ]
    assert {row["Name"] for row in rows if row["What"] == "Slip in all"} == {
        one["say"] for one in found["slips"]
    }
    # Nothing was sent with what was asked for, and nothing stays.
    assert [each for each in sent if each != "GET"] == []
    kept = "JSON.stringify([{...localStorage}, {...sessionStorage}, document.cookie])"
    assert "sitting" not in page.evaluate(kept)
    page.evaluate("dispatchEvent(new PageTransitionEvent('pagehide', {persisted: true}))")
    expect(page.locator("[data-hb-results-shown]")).to_be_empty()
    page.reload()
    expect(page.locator("[data-hb-results-form]")).to_be_visible()
    expect(page.locator("[data-hb-results-shown]")).to_be_hidden()


def test_what_is_wrong_with_files_is_told_in_one_go_and_can_be_put_right(warm: Warm) -> None:
    page = warm(f"{PAGE}?paper=safety_first&edition=2025-01-01-0000000")
    expect(page.locator("[data-hb-results-edition]")).to_contain_text("another edition")
    good = class_of(2)
    first = next(iter(good.values()))
    chosen(page, {**good})
    expect(head(page)).to_have_text("Nothing could be counted", timeout=START_MS)
    wrong = page.locator(".hb-results__problems li")
    expect(wrong).to_have_count(1)  # one line for all with which the same is wrong
    expect(wrong).to_contain_text("a-learner-0.json; a-learner-1.json: found the paper “Pressure")
    page.get_by_label("Which paper").select_option(PAPER)
    expect(head(page)).to_have_text("Pressure and input: 2 papers", timeout=START_MS)
    chosen(
        page,
        {
            "twice.json": first,
            "broken.json": first[:-40],
            "other.json": saved({}, drawn="0", edition="2025-01-01 0000000", sitting="d" * 8),
            "large.json": b"x" * 2_000_001,
            "image.png": b"\x89PNG\r\n\x1a\n\x00\x00",
            "name.csv": "seed,1\nA. Tutor,B\n",
            "<img src=x onerror=alert(1)>.json": "[]",
        },
    )
    expect(page.locator(".hb-results__problems > p")).to_have_text(
        "2 of 9 files are counted. Not counted:", timeout=START_MS
    )
    said = wrong.all_inner_texts()
    assert [line.partition(":")[0] for line in said] == [
        *("twice.json", "broken.json", "large.json", "image.png"),
        *("<img src=x onerror=alert(1)>.json", "name.csv, line 2", "other.json"),
    ]
    assert all("expected" in line and "What to do: " in line for line in said)
    assert "Tutor" not in " ".join(said)
    assert faults(page) == []
    page.get_by_label("Seed").fill("someone-else")
    page.get_by_label("Seed").blur()
    expect(head(page)).to_have_text("Nothing could be counted", timeout=START_MS)
    page.get_by_label("Seed").fill("Week 9")  # the tutor's, from which the class's follow
    page.get_by_label("Seed").blur()
    expect(head(page)).to_have_text("Pressure and input: 2 papers", timeout=START_MS)
    page.get_by_role("button", name="Clear").click()
    expect(page.locator("[data-hb-results-said]")).to_have_text("Cleared. Nothing is kept.")
    expect(page.locator("[data-hb-results-shown]")).to_be_hidden()


def test_two_hundred_files_on_a_phone_in_the_dark_and_a_table_offline(warm: Warm) -> None:
    page = warm(PAGE)
    page.set_viewport_size(PHONE)
    page.emulate_media(color_scheme="dark")
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")
    chosen(page, dict(class_of(200)))
    expect(page.locator("[data-hb-results-said]")).to_contain_text("of 200 papers are counted")
    expect(head(page)).to_have_text("Pressure and input: 200 papers", timeout=START_MS)
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert faults(page) == []
    rows = page.get_by_role("table", name=re.compile("^Questions")).get_by_role("row")
    expect(rows).to_have_count(1 + len(drawn(SEEDS[0])))
    page.context.set_offline(True)
    page.get_by_role("button", name="Clear").click()
    marks = ["right"] * 19 + ["wrong"]
    numbers = ",".join(map(str, range(1, 21)))
    table = f"seed,name,{numbers}\nweek-9,N,{','.join(marks)}\n"
    chosen(page, {"class.csv": table})
    expect(page.locator(".hb-results__problems")).to_contain_text("choose the paper that was sat")
    page.get_by_label("Which paper").select_option(PAPER)
    expect(head(page)).to_have_text("Pressure and input: 1 paper", timeout=START_MS)
    expect(page.locator("[data-hb-results-shown]")).to_contain_text("Passed over: 1 column")
    assert shown(page)[0][1] == "0 of 1"
    page.context.set_offline(False)


def test_a_count_can_be_stopped_and_one_that_fails_has_a_way_on(new_page: NewPage) -> None:
    page = lecturer(new_page)
    files = {
        f"{seed}.json": saved(right(seed), seed, sitting=f"sitting{seed}")
        for seed in papers.class_seeds("week-9", 12)
    }
    chosen(page, dict(files))
    page.get_by_role("button", name="Stop").click()
    expect(page.locator("[data-hb-results-said]")).to_have_text("Stopped. Nothing is kept.")
    page.evaluate("HB_PRACTICE = ''")
    chosen(page, dict(class_of(1)))
    said = page.locator("[data-hb-results-said]")
    expect(said).to_contain_text("The questions are not on this device.")
    page.reload()
    expect(page.locator("[data-hb-results-form]")).to_be_visible()


def test_without_a_script_it_is_said_how_a_host_does_it(new_page: NewPage) -> None:
    page = new_page(PAGE, python=False, java_script_enabled=False, viewport=PHONE)
    expect(page.locator("#class noscript")).to_be_visible()
    expect(page.locator("[data-hb-results-form]")).to_be_hidden()
    expect(page.locator("#about")).to_contain_text("Nothing is uploaded.")
