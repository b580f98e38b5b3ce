"""Reference pages: their own words, and the lists that the build makes from the data."""

from collections.abc import Callable, Sequence
from typing import Any

from build_tools.pages import glossary, outcomes, resolve, source_claims, table_of_changes
from build_tools.pages import instruments as instruments_of
from build_tools.pages import tables as tables_of
from build_tools.pages.content_node import ContentNode
from build_tools.pages.page_context import HOST_RULE, Limit, PageContext
from build_tools.sources.filled import HOST_COPY
from build_tools.sources.schema import words_of


def context(node: ContentNode, _: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of a reference page."""
    made = node["generate"].value
    if made is not None:
        node["generate"].known(made, MADE, "list")
    nodes = MADE[made](node.page_context) if made in MADE else []
    sections = [_section(each, number) for number, each in enumerate(node["sections"].nodes())]
    letters = glossary.by_letter(node["terms"])
    return {
        "cautions": node["cautions"].htmls(),
        "body": node["body"].htmls(),
        "sections": sections,
        "letters": letters,
        "generate": made,
        "generated": nodes,
        "related": resolve.related(node["related"]),
        "contents": [(each["id"], each["title"]) for each in (*sections, *letters, *nodes)],
    }


def _section(node: ContentNode, number: int) -> dict[str, Any]:
    """Words of the page's own, with the numbers, instruments, tables and drawing they are about."""
    instruments, tables = (
        node.page_context.bundle["instruments"],
        node.page_context.bundle["tables"],
    )
    measuring = {each.value: instruments[each.value] for each in node["instruments"].nodes()}
    figures = instruments_of.as_limits(measuring)
    return {
        "id": str(node["id"].value).replace("_", "-"),
        "title": node["title"].html,
        "cautions": node["cautions"].htmls(),
        "body": node["body"].htmls(),
        "points": node["points"].htmls(),
        "limits": [*resolve.limits(node["limits"]), *figures],
        "tables": [
            {"title": tables[each.value]["title"], "link": node.link(tables_of.PAGE, each.value)}
            for each in node["tables"].nodes()
        ],
        "diagram": resolve.diagram(node["diagram"], f"drawing-{number}"),
    }


# A host's own come after what was read in the source itself.
ORDER = (
    "published",
    HOST_COPY,
    HOST_RULE,
    *(each for each in words_of("provenance") if each != "published"),
)


def _sources(page_context: PageContext) -> list[dict[str, Any]]:
    """Every source by title, with the numbers that were taken from it."""
    numbers, claims = _all_numbers(page_context), source_claims.by_source(page_context.bundle)
    ordered = sorted(
        page_context.sources.items(), key=lambda item: str(item[1]["title"]).casefold()
    )
    return [
        {
            **source,
            "id": name,
            "claim": claims.get(name) or source_claims.of_hosts(name, numbers),
            "limits": [each for each in numbers if _from(each, name)],
        }
        for name, source in ordered
    ]


def _from(limit: Limit, source: str) -> bool:
    return limit.source is not None and limit.source["id"] == source


def _provenances(page_context: PageContext) -> list[dict[str, Any]]:
    """Every number under its provenance; a provenance that no number has is left out."""
    numbers = _all_numbers(page_context)
    groups = [
        {
            "id": provenance,
            "title": provenance.replace("-", " ").capitalize(),
            "limits": [each for each in numbers if each.provenance == provenance],
        }
        for provenance in ORDER
    ]
    return [group for group in groups if group["limits"]]


def _tables(page_context: PageContext) -> list[dict[str, Any]]:
    """Every data table by title, as it stands on the day."""
    tables = [
        {**tables_of.shown(page_context, stem), "id": stem}
        for stem in page_context.bundle["tables"]
    ]
    return sorted(tables, key=lambda table: str(table["title"]).casefold())


def _all_numbers(page_context: PageContext) -> list[Limit]:
    """Every figure, every table and all that is held of an instrument, by name."""
    found = [
        *(figures := page_context.limits(page_context.figures)),
        *(own for figure in figures for own in figure.of_hosts),
        *(tables_of.as_limit(page_context, stem) for stem in page_context.bundle["tables"]),
        *instruments_of.as_limits(page_context.bundle["instruments"]),
    ]
    return sorted(found, key=lambda limit: limit.name)


MADE: dict[str, Callable[[PageContext], list[dict[str, Any]]]] = {
    "sources": _sources,
    "provenances": _provenances,
    "tables": _tables,
    "changes": table_of_changes.by_day,
    "outcomes": outcomes.coverage,
}
