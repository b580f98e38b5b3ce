"""What a learner hands over for a class: saved, sent on, kept until it is forgotten, and read."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import faults
from tests.browser.calculator_page import START_MS
from tests.browser.conftest import PHONE, NewPage, Warm
from tests.browser.papers_page import opened, sit
from tests.browser.results_page import head, shown, told
from tests.calcs.practice.class_files import PAPER, SEEDS


def test_a_learner_on_a_phone_hands_the_answers_over_and_the_lecturer_reads_them(
    new_page: NewPage, tmp_path: Path
) -> None:
    page = opened(new_page)
    sit(page)
    page.get_by_text("All questions").click()
    page.get_by_role("button", name="Hand it in", exact=True).click()
    expect(page.locator("[data-hb-papers-said]")).to_contain_text(
        "sent to nobody. For a class, save"
    )
    page.get_by_role("button", name="Hand it in now").click()
    part = page.locator("[data-hb-papers-result] .hb-papers__handed")
    expect(part).to_contain_text("For your lecturer", timeout=START_MS)
    expect(part).to_contain_text("Your name is not in it. Nothing is sent from here")
    file = _saved(page, part, tmp_path)
    expect(part).to_contain_text("Look for it among your downloads.")
    page.get_by_role("button", name="Another paper").click()
    expect(page.locator("[data-hb-papers-handed]")).to_be_in_viewport()
    page.reload()  # who leaves too soon can still save it
    start = page.locator("[data-hb-papers-handed]")
    expect(start).to_contain_text("Handed in: Pressure and input, seed 7")
    assert _saved(page, start, tmp_path).read_bytes() == file.read_bytes()
    assert faults(page) == []
    page.get_by_text("For a class").click()
    page.get_by_role("link", name="See how a class did").click()
    expect(page.get_by_label("Which paper")).to_have_value(PAPER)
    expect(page.get_by_label("Seed")).to_have_value("7")
    expect(page.locator("[data-hb-results-edition]")).to_be_hidden()  # it is of this edition
    page.get_by_label("Files of answers").set_input_files(file)
    expect(head(page)).to_have_text("Pressure and input: 1 paper", timeout=START_MS)
    assert {row[3] for row in shown(page)} == {"1"}  # nothing was answered
    assert told({"one": file.read_text("utf-8")})["sat"] == 1
    page.go_back()
    page.get_by_role("button", name="Forget it").click()
    expect(page.locator("[data-hb-papers-handed]")).to_be_hidden()


def _saved(page: Page, part: Any, folder: Path) -> Path:
    with page.expect_download() as download:
        part.get_by_role("button", name="Save your answers").click()
    name = download.value.suggested_filename
    assert re.fullmatch(r"answers-pressure_and_input-7-\w{4}\.json", name)
    file = folder / f"{len([*folder.iterdir()])}.json"
    download.value.save_as(file)
    return file


SHARE = """({shared}) => {
    navigator.canShare = ({files}) => files.every(({type}) => shared.includes(type));
    navigator.share = async ({files}) => { window.given = [files[0].name, await files[0].text()]; };
}"""


@pytest.mark.parametrize(
    ("types", "ending"), [(["application/json"], ".json"), (["text/plain"], ".txt"), ([], "")]
)
def test_a_device_that_can_passes_the_answers_on(
    new_page: NewPage, types: list[str], ending: str
) -> None:
    def prepare(page: Page) -> None:
        page.add_init_script(f"({SHARE})({json.dumps({'shared': types})})")
        handed = {"title": "A paper", "name": "answers-a-1-abcd.json", "text": "{}"}
        kept = json.dumps(json.dumps(handed))
        page.add_init_script(f"localStorage.setItem('hb:paper-handed-in', {kept})")

    page = new_page("practise/papers.html", python=False, before=prepare, viewport=PHONE)
    part = page.locator("[data-hb-papers-handed]")
    expect(part.get_by_role("button", name="Save your answers")).to_be_visible()
    send = part.get_by_role("button", name="Send them on")
    expect(send).to_have_count(1 if ending else 0)
    if ending:
        send.click()
        expect(part).to_contain_text("Handed to the program that you chose.")
        assert page.evaluate("window.given") == [f"answers-a-1-abcd{ending}", "{}"]


def test_a_table_for_a_class_is_saved_empty_and_read_filled(warm: Warm, tmp_path: Path) -> None:
    page = warm("practise/papers.html?paper=pressure_and_input&seed=week-9")
    page.get_by_text("For a class").click()
    page.get_by_label("Candidates").fill("3")
    with page.expect_download(timeout=START_MS) as download:
        page.get_by_role("button", name="Save an empty table").click()
    file = tmp_path / "class.csv"
    download.value.save_as(file)
    with file.open(encoding="utf-8", newline="") as opened_file:
        rows = [*csv.reader(opened_file)]
    assert rows[0] == ["seed", *map(str, range(1, 21))]
    assert [row[0] for row in rows[1:]] == SEEDS[:3]
    filled = "\n".join(",".join([row[0], *["right"] * 20]) for row in rows[1:])
    assert told({"class.csv": f"{','.join(rows[0])}\n{filled}\n"})["reached"] == 3
