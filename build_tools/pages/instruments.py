"""What an instrument adds to the uncertainty about a reading, as the pages show it."""

from collections.abc import Iterator, Mapping
from typing import Any

from build_tools.pages.page_context import Limit, measure

FIGURES = {
    "resolution": "smallest step",
    "accuracy": "accuracy, either way",
    "movement": "smallest movement that can be seen",
}


def as_limits(instruments: Mapping[str, Any]) -> Iterator[Limit]:
    """The figures of every instrument, each with its own provenance."""
    for name, instrument in instruments.items():
        for figure, words in FIGURES.items():
            node = instrument.get(figure)
            if node is None:
                continue
            yield Limit(
                name=f"instrument.{name}.{figure}",
                label=f"{instrument['title']}, {words}",
                meaning="",
                text=measure(node["value"]) if node.get("value") else "",
                provenance=node["provenance"],
                since="",
                source=node.get("source"),
                note=instrument.get("note") if figure == "accuracy" else None,
            )
