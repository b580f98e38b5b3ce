"""What an instrument adds to the uncertainty about a reading, as the pages show it."""

from collections.abc import Iterator, Mapping
from typing import Any

from build_tools.pages.page_context import Limit, limit_of

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
            told = {"label": f"{instrument['title']}, {words}", "meaning": ""}
            note = instrument.get("note") if figure == "accuracy" else None
            value = {**node, "from": "", "note": note}
            yield limit_of(f"instrument.{name}.{figure}", told, value)
