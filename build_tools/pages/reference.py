"""Reference pages: their own words, and the lists that the build makes from the data."""

from collections.abc import Callable, Iterable
from typing import Any

from build_tools.pages import glossary, resolve, source_claims, table_of_changes
from build_tools.pages import instruments as instruments_of
from build_tools.pages import tables as tables_of
from build_tools.pages.content_node import Part
from build_tools.pages.page_context import Limit, Shelf

# From firm ground to none, as a reader would ask for them.
PROVENANCES = (
    "published",
    "secondary",
    "common-practice",
    "from-memory",
    "instructions-govern",
    "not-held",
    "invented",
)


def context(part: Part) -> dict[str, Any]:
    """Values for the template of a reference page."""
    made = part["generate"].value
    if made is not None:
        part["generate"].known(made, MADE, "list")
    parts = MADE[made](part.shelf) if made in MADE else []
    sections = [_section(each, number) for number, each in enumerate(part["sections"].parts())]
    letters = glossary.by_letter(part["terms"])
    return {
        "cautions": part["cautions"].texts(),
        "body": part["body"].texts(),
        "sections": sections,
        "letters": letters,
        "generate": made,
        "generated": parts,
        "related": resolve.related(part["related"]),
        "contents": [(each["id"], each["title"]) for each in (*sections, *letters, *parts)],
    }


def _section(part: Part, number: int) -> dict[str, Any]:
    """Words of the page's own, with the numbers, instruments, tables and drawing they are about."""
    instruments, tables = part.shelf.bundle["instruments"], part.shelf.bundle["tables"]
    measuring = _known(part["instruments"], instruments, "instrument")
    figures = instruments_of.as_limits({name: instruments[name] for name in measuring})
    return {
        "id": str(part["id"].value).replace("_", "-"),
        "title": part["title"].text(),
        "cautions": part["cautions"].texts(),
        "body": part["body"].texts(),
        "points": part["points"].texts(),
        "limits": [*resolve.limits(part["limits"]), *figures],
        "tables": [
            {"title": tables[name]["title"], "link": part.link(tables_of.PAGE, name)}
            for name in _known(part["tables"], tables, "table")
        ],
        "diagram": resolve.diagram(part["diagram"], f"drawing-{number}"),
    }


def _known(part: Part, names: Iterable[str], kind: str) -> list[str]:
    return [each.value for each in part.parts() if each.known(each.value, names, kind)]


def _sources(shelf: Shelf) -> list[dict[str, Any]]:
    """Every source by title, with the numbers that were taken from it."""
    numbers, claims = _all_numbers(shelf), source_claims.by_source(shelf.bundle)
    ordered = sorted(shelf.sources.items(), key=lambda item: str(item[1]["title"]).casefold())
    return [
        {
            **source,
            "id": name,
            "claim": claims.get(name, source_claims.NOTHING),
            "limits": [each for each in numbers if _from(each, name)],
        }
        for name, source in ordered
    ]


def _from(limit: Limit, source: str) -> bool:
    return limit.source is not None and limit.source["id"] == source


def _provenances(shelf: Shelf) -> list[dict[str, Any]]:
    """Every number under its provenance; a provenance that no number has is left out."""
    numbers = _all_numbers(shelf)
    groups = [
        {
            "id": provenance,
            "title": provenance.replace("-", " ").capitalize(),
            "limits": [each for each in numbers if each.provenance == provenance],
        }
        for provenance in PROVENANCES
    ]
    return [group for group in groups if group["limits"]]


def _tables(shelf: Shelf) -> list[dict[str, Any]]:
    """Every data table by title, as it stands on the day."""
    tables = [{**tables_of.shown(shelf, stem), "id": stem} for stem in shelf.bundle["tables"]]
    return sorted(tables, key=lambda table: str(table["title"]).casefold())


def _all_numbers(shelf: Shelf) -> list[Limit]:
    """Every figure, every table and all that is held of an instrument, by name."""
    found = [
        *shelf.limits(shelf.figures),
        *(tables_of.as_limit(shelf, stem) for stem in shelf.bundle["tables"]),
        *instruments_of.as_limits(shelf.bundle["instruments"]),
    ]
    return sorted(found, key=lambda limit: limit.name)


MADE: dict[str, Callable[[Shelf], list[dict[str, Any]]]] = {
    "sources": _sources,
    "provenances": _provenances,
    "tables": _tables,
    "changes": table_of_changes.by_day,
}
