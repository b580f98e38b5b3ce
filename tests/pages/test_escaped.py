"""Markup in the words of a YAML file, or in a calculator's reply, is shown and never obeyed."""

from __future__ import annotations

import copy
from html.parser import HTMLParser
from typing import Any

import pytest
import yaml

from build_tools.pages import search
from tests.pages.small_handbook import cases, handbook, read

MARKUP = '<hbx onload="hbx()">\'&lt;hbx&gt;'
SHOWN = "&lt;hbx onload="


def marked(value: Any) -> Any:
    """The same, with markup behind every text that is words and not a name."""
    if isinstance(value, dict):
        return {key: marked(each) for key, each in value.items()}
    if isinstance(value, list):
        return [marked(each) for each in value]
    is_words = isinstance(value, str) and " " in value.strip() and not value[0].isdigit()
    return f"{value} {MARKUP}" if is_words else value


def marked_file(name: str, text: str) -> str:
    if not name.endswith(".yaml"):
        return text
    words = yaml.load(text, yaml.BaseLoader)  # noqa: S506  all text, as our own reader has it
    return yaml.safe_dump(marked(words), allow_unicode=True)


class Tags(HTMLParser):
    """Every element and attribute of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.found += [tag, *(name for name, _ in attrs)]


def told_nothing() -> list[Any]:
    """Goldens that make pages. Those that end in a message are tried elsewhere."""
    return [each for each in cases() if "message" not in each.values[0]]


@pytest.mark.parametrize("case", told_nothing())
def test_markup_in_every_word_is_only_shown(case):
    case = copy.deepcopy(case)
    shared = read("_shared.yaml")["files"]
    files = {**shared, **case["files"]}
    case["files"] = {name: marked_file(name, text) for name, text in files.items()}
    case["replies"] = marked(case["replies"])
    case["contact"] = MARKUP
    made = handbook(case)
    for page in made.pages:
        found = Tags(page.html).found
        assert "hbx" not in found, page.path
        assert "onload" not in found, page.path
    assert any(SHOWN in page.html for page in made.pages)
    # The list of the search is a script: nothing in it may end the text that it stands in.
    script = search.script(made)
    assert script.count("\n") == 1
