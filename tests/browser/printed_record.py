"""The record on paper, as tests read it: its sides, its rows, and what lies wrongly on it."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Page

from build_tools.sources.read_yaml import read_file

NAME = "printed_record_golden.yaml"
GOLDEN = read_file(Path(__file__).parent / NAME, NAME).value
PAGE = re.compile(rb"/Type\s*/Page\b")
SMALLEST_PT = 7.6
# What is cut, too small, grey or empty on paper.
FAULTS = """smallest => [...document.querySelectorAll('.hb-printed *')].flatMap(each => {
  if (each.closest('[data-hb-shape]')) return [];
  const look = getComputedStyle(each), own = each.getBoundingClientRect();
  const side = each.closest('.hb-printed__side').getBoundingClientRect();
  const foot = each.closest('.hb-printed__side').querySelector('.hb-printed__foot');
  const isFoot = foot.contains(each) || each.classList.contains('hb-printed__side');
  const bottom = isFoot ? side.bottom : foot.getBoundingClientRect().top;
  const isNo = each.classList.contains('hb-printed__word--no');
  const wrong = [];
  if (own.right > side.right + 1 || own.bottom > bottom + 1) wrong.push('cut');
  if (each.scrollWidth > each.clientWidth + 1 && look.display !== 'inline')
    wrong.push('wider than its place');
  if (parseFloat(look.fontSize) * 0.75 < smallest - 0.01) wrong.push('small');
  if (look.color !== (isNo ? 'rgb(255, 255, 255)' : 'rgb(0, 0, 0)')) wrong.push('no black');
  if (!isNo && look.backgroundColor !== 'rgba(0, 0, 0, 0)') wrong.push('a ground of ink');
  if (!each.textContent.trim() && !each.closest('.hb-printed__row')) wrong.push('empty');
  return wrong.map(what => `${what}: ${each.className} ${each.textContent.slice(0, 40)}`);
})"""
# Headings on paper under which nothing stands.
BARE = """() => {
    const heads = '.hb-printed__title, .hb-printed__group';
    return [...document.querySelectorAll(heads)]
        .filter(({nextElementSibling: next}) => !next || next.matches(heads))
        .map((head) => head.textContent);
}"""
# Each place as its parts: the shape that stands in a part, and its words.
PARTS = """place => [...document.querySelectorAll(place)].map((each) =>
    [...each.children].map((part) => [
        part.querySelector('[data-hb-shape]')?.dataset.hbShape ?? '',
        part.textContent.replaceAll('\\u00a0', ' ')]))"""


def laid(page: Page) -> None:
    """As the page stands while it is printed."""
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")


def rows(page: Page) -> list[str]:
    """The readings, as the golden writes them: of each cell its shape, then its words."""
    names = {state: name for name, state in GOLDEN["shapes"].items()}
    found = page.evaluate(PARTS, ".hb-printed__row:not(.hb-printed__row--head)")
    return [
        " | ".join(f"{names.get(shape, '')} {text}".strip() for shape, text in row) for row in found
    ]


def pairs(page: Page, place: str) -> dict[str, str]:
    """Two words each: what it is of, and what is said."""
    return {name: text for (_, name), (_, text) in page.evaluate(PARTS, place)}


def words(page: Page) -> str:
    """All that stands on it."""
    return str(page.locator(".hb-printed").text_content()).replace("\N{NO-BREAK SPACE}", " ")


def bare(page: Page) -> list[str]:
    """Headings under which nothing stands."""
    found: list[str] = page.evaluate(BARE)
    return found


def faults(page: Page) -> list[str]:
    """What is cut, small, grey or empty."""
    found: list[str] = page.evaluate(FAULTS, SMALLEST_PT)
    return found


def sides(pdf: bytes) -> int:
    return len(PAGE.findall(pdf))
