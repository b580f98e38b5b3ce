"""Reference pages: their own words, and the lists that the build makes from the data."""

from typing import Any

from build_tools.pages.part import Part
from build_tools.pages.shelf import Limit, Shelf

# From firm ground to none, as a reader would ask for them.
STANDINGS = (
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
    sources = _sources(part.shelf) if made == "sources" else []
    standings = _standings(part.shelf) if made == "standings" else []
    contents = [(group["standing"], group["title"]) for group in standings]
    return {
        "body": part["body"].texts(),
        "generated_sources": sources,
        "generated_standings": standings,
        "contents": contents,
    }


def _all_limits(shelf: Shelf) -> list[Limit]:
    return sorted(shelf.limits(shelf.records), key=lambda limit: limit.name)


def _sources(shelf: Shelf) -> list[dict[str, Any]]:
    """Every source by title, with the numbers that were taken from it."""
    limits = _all_limits(shelf)
    ordered = sorted(shelf.sources.items(), key=lambda item: str(item[1]["title"]).casefold())
    return [
        {"id": name, **source, "limits": [each for each in limits if _from(each, name)]}
        for name, source in ordered
    ]


def _from(limit: Limit, source: str) -> bool:
    return limit.source is not None and limit.source["id"] == source


def _standings(shelf: Shelf) -> list[dict[str, Any]]:
    """Every record under its standing; a standing that no record has is left out."""
    limits = _all_limits(shelf)
    groups = [
        {
            "standing": standing,
            "title": standing.replace("-", " ").capitalize(),
            "limits": [each for each in limits if each.standing == standing],
        }
        for standing in STANDINGS
    ]
    return [group for group in groups if group["limits"]]
