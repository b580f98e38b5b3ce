"""Names that a file gives, turned into what a page shows of them."""

from collections.abc import Iterable
from typing import Any

from markupsafe import Markup

from build_tools.diagrams.draw import draw
from build_tools.diagrams.given import DrawingProblem
from build_tools.pages.content_node import ContentNode
from build_tools.pages.page_context import Limit, PageContext
from build_tools.sources.page_kinds import FOLDERS
from calcs.engine.units import unit_text


def usual(node: ContentNode, headings: Iterable[tuple[str, str]]) -> dict[str, Any]:
    """What pages of many kinds show: their words, related pages, and the headings of all.

    Args:
        node: The page's own file.
        headings: The id and the title of each, without that of the related pages.
    """
    links = related(node["related"])
    last = [("related", "Related pages")] if links else []
    return {"body": node["body"].htmls(), "related": links, "contents": [*headings, *last]}


def limits(node: ContentNode) -> list[Limit]:
    """The limits whose figures are named here."""
    return [node.page_context.limit(each.value) for each in node.nodes()]


def sources(node: ContentNode) -> list[dict[str, Any]]:
    """The sources named here, each with the place in it."""
    titles = {name: source["title"] for name, source in node.page_context.sources.items()}
    named = [(each["id"].value, each["where"].html) for each in node.nodes()]
    return [{"id": name, "title": titles[name], "where": where} for name, where in named]


def related(node: ContentNode) -> list[dict[str, str]]:
    """Links to the pages of the stems named here. One stem may have a page of each kind."""
    found = []
    for each in node.nodes():
        for path, title in node.page_context.pages.items():
            kind, _, stem = path.partition("/")
            if stem == each.value and f"{path}.html" != node.path:
                link = node.link(f"{path}.html")
                found.append({"title": title, "kind": FOLDERS[kind].title, "link": link})
    return found


def reading(node: ContentNode) -> dict[str, Any]:
    """A reading of the visit record: what to write down, and its unit or what can be chosen."""
    name = node.value
    entry = node.page_context.visit_record[name]
    unit = entry.get("unit", "")
    return {
        "name": name,
        "label": entry["label"],
        "unit": unit_text(unit),
        "unit_code": unit,
        "options": entry.get("options", []),
    }


def reading_or_text(node: ContentNode) -> dict[str, Any]:
    """A line of the record: a reading by its name, or a sentence about what else to write."""
    if node.value in node.page_context.visit_record:
        return reading(node)
    return {"name": None, "label": node.html, "unit": ""}


def diagram(node: ContentNode, prefix: str) -> dict[str, Any] | None:
    """A drawing with its title; none where none is named or it can't be drawn."""
    page_context = node.page_context
    if node.value is None:
        return None
    given = node.value if isinstance(node.value, dict) else {"id": node.value}
    words = page_context.diagrams[given["id"]]
    params = {**words.get("params", {}), **{k: v for k, v in given.items() if k != "id"}}
    try:
        svg = _drawn(words, params, prefix, page_context)
    except DrawingProblem as problem:
        node.note(problem.found, problem.expected, problem.fix)
        return None
    key = f"{words['draw']} {sorted(params.items())}"
    drawing = Markup(svg)  # noqa: S704  # ElementTree wrote it, and escapes what it writes
    caption = node.fill(words.get("caption", ""))
    return {"svg": drawing, "title": words["title"], "caption": caption, "key": key}


def _drawn(
    words: dict[str, Any], params: dict[str, Any], prefix: str, page_context: PageContext
) -> str:
    return draw(
        words["draw"],
        params,
        figures=page_context.figures,
        readings=page_context.scenario,
        tables=page_context.bundle["tables"],
        day=page_context.day,
        prefix=prefix,
        title=words["title"],
        alt=words.get("alt", ""),
    )
