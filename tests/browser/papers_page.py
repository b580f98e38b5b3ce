"""The page of question papers as a learner handles it."""

from __future__ import annotations

import json
import re
from typing import Any

from playwright.sync_api import Page, expect

from calcs.practice import paper_reply
from tests.browser.calculator_page import START_MS
from tests.browser.conftest import PHONE, NewPage
from tests.calcs.practice.held import held, pack

PAGE = "practise/papers.html?paper=pressure_and_input&seed=7"
SIDE = re.compile(rb"/Type\s*/Page\b")
NO_PRINTER = "window.print = () => { window.printed = true; }"


def opened(new_page: NewPage, path: str = PAGE, **options: Any) -> Page:
    def prepare(page: Page) -> None:
        page.add_init_script(NO_PRINTER)

    page = new_page(path, viewport=PHONE, before=prepare, **options)
    expect(page.locator("[data-hb-papers-start]")).to_be_visible()
    return page


def sit(page: Page) -> None:
    page.get_by_role("button", name="Sit it here").click()
    expect(page.locator("[data-hb-papers-form]")).to_be_visible(timeout=START_MS)


def here(about: str, **more: Any) -> Any:
    request = {"about": about, "paper": "pressure_and_input", "seed": "7", **more}
    return json.loads(json.dumps(paper_reply.reply(request, held(), pack())))["practice"]
