"""The outcomes of a host's curriculum: which of the handbook serves each, and what serves none."""

from collections.abc import Iterator
from typing import Any

from build_tools.pages.page_context import PageContext
from build_tools.sources.page_kinds import FOLDERS, step_anchor

HELD = {"questions", "papers"}  # folders of what the page of practice holds


def codes_at(page_context: PageContext, place: str) -> str:
    """The outcomes that a page or a step serves, in a line; empty where it serves none."""
    by_host: dict[str, list[str]] = {}
    for each in page_context.hosts.outcomes:
        if place in each.served_by:
            by_host.setdefault(each.host, []).append(each.code)
    return "; ".join(f"{host}: {', '.join(codes)}" for host, codes in by_host.items())


def coverage(page_context: PageContext) -> list[dict[str, Any]]:
    """Every outcome with what serves it; first those that nothing serves."""
    rows = [
        {
            "code": each.code,
            "says": each.says,
            "host": each.host,
            "places": [*_places(page_context, each.served_by)],
            "questions": [*_questions(page_context, each.served_by)],
        }
        for each in page_context.hosts.outcomes
    ]
    open_ones = [each for each in rows if not each["places"] and not each["questions"]]
    parts = (("nothing-serves", "Served by nothing", open_ones), ("outcomes", "Outcomes", rows))
    return [{"id": name, "title": title, "rows": found} for name, title, found in parts if found]


def _places(page_context: PageContext, served: tuple[str, ...]) -> Iterator[dict[str, str]]:
    for place in served:
        page, _, step = place.partition("#")
        folder, _, stem = page.partition("/")
        if page in page_context.pages:
            title = page_context.pages[page]
            number = page_context.hosts.steps.get(f"{stem}.{step}")
            said = f", step {number}" if number else ""
            anchor = f"#{step_anchor(step)}" if step else ""
            kind = FOLDERS[folder].title
            link = f"../{page}.html{anchor}"
            yield {"kind": kind, "title": f"{title}{said}", "link": link}


def _questions(page_context: PageContext, served: tuple[str, ...]) -> Iterator[str]:
    for place in served:
        kind, _, stem = place.partition("/")
        if kind in HELD:
            found = page_context.questions.get(kind, {}).get(stem, {})
            yield str(found.get("title", stem))
