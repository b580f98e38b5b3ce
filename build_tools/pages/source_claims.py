"""What a page says of a source: counted from the figures that name it, so that it is so."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from build_tools.pages.page_context import Limit
from build_tools.sources.parse_value import PROVENANCE

TO_LOOK_UP = ("not-held", "instructions-govern")  # the source has them, and this handbook does not
WORDS = {
    "published": "read in it or computed from what was",
    "host-copy": "read in it by the host",
    "secondary": "at second hand",
    "common-practice": "common practice",
    "from-memory": "from memory",
    "invented": "invented",
}

NOTHING: dict[str, Any] = {"figures": [], "to_look_up": 0}


def by_source(bundle: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """For each source: the figures that name it, by how they are known, and how many it keeps."""
    counted: dict[str, Counter[str]] = {}
    for source, provenance in _figures(bundle):
        counted.setdefault(source, Counter())[provenance] += 1
    return {source: _said(counts) for source, counts in counted.items()}


def of_hosts(source: str, limits: Iterable[Limit]) -> dict[str, Any]:
    """The same of a source that only a host's own limits are from."""
    own = [each for each in limits if each.source and each.source["id"] == source]
    return {"figures": [f"{len(own)} of the host's own"], "to_look_up": 0} if own else NOTHING


def _said(counts: Counter[str]) -> dict[str, Any]:
    return {
        "figures": [
            f"{counts[provenance]} {words}"
            for provenance, words in WORDS.items()
            if counts[provenance]
        ],
        "to_look_up": sum(counts[provenance] for provenance in TO_LOOK_UP),
    }


def _figures(bundle: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Source and provenance of every dated value, every row and every figure of an instrument."""
    for figure in bundle["figures"].values():
        yield from (
            _named(dated_value, dated_value["provenance"])
            for dated_value in figure["values"]
            if dated_value["source"]
        )
    for table in bundle["tables"].values():
        places = [n for n, each in enumerate(table["columns"]) if _tells_the_row(each)]
        for dated_value in table["values"]:
            if dated_value["source"]:
                rows = dated_value["rows"] or [()]
                for row in rows:
                    own = [row[place] for place in places if row]
                    yield _named(
                        dated_value, own[0] if own and own[0] else dated_value["provenance"]
                    )
    for instrument in bundle["instruments"].values():
        for node in (instrument["resolution"], instrument["accuracy"]):
            if node["source"]:
                yield _named(node, node["provenance"])


def _tells_the_row(column: Mapping[str, str]) -> bool:
    return column.get("kind") == PROVENANCE and column["name"] == PROVENANCE


def _named(holder: Mapping[str, Any], provenance: str) -> tuple[str, str]:
    return str(holder["source"]["id"]), provenance
