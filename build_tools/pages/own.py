"""The page of what a reader keeps on the device: what there is to type, in which editions."""

from collections.abc import Iterable, Sequence
from typing import Any

from build_tools.pages import resolve
from build_tools.pages.content_node import ContentNode
from calcs.engine.overrides import used_by
from calcs.engine.registry import calculators
from calcs.engine.typed_rows import can_be_typed
from calcs.engine.units import parse_quantity, unit_text

SECTIONS = (
    ("figures", "Figures"),
    ("instruments", "Instruments"),
    ("you", "You"),
    ("export-import", "Export and import"),
)
SCHEMA = "assets/handbook/own_kept.schema.json"  # the form of an exported file
PERSON_FIELDS = (
    ("contact", "Your emergency number", "tel"),
    ("name", "Your name, for print", "text"),
    ("registration", "Your registration, for print", "text"),
)
BLANK_ROWS = 6  # of a table, on paper
INSTRUMENT_FIELDS = (
    ("name", "What you call it", "text"),
    ("serial", "Serial number", "text"),
    ("resolution", "Smallest step", "text"),
    ("accuracy", "Accuracy, ±", "text"),
    ("calibrated_on", "Calibrated on", "date"),
    ("calibrated_until", "Next due", "date"),
)


def context(node: ContentNode, _: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of what a reader keeps."""
    return {
        **resolve.usual(node, SECTIONS),
        "cautions": node["cautions"].htmls(),
        "groups": _groups(node),
        "blank_rows": BLANK_ROWS,
        "instruments_words": node["instruments"].htmls(),
        "instrument_fields": INSTRUMENT_FIELDS,
        "person_fields": PERSON_FIELDS,
        "you": node["you"].htmls(),
        "kinds": _kinds(node.page_context.bundle["instruments"]),
        "schema": node.link(SCHEMA),
    }


def _groups(node: ContentNode) -> list[dict[str, Any]]:
    """The figures that the handbook does not hold, under the source that has them."""
    page_context = node.page_context
    groups: dict[str, list[dict[str, Any]]] = {}
    for name, figure in _not_held(page_context.bundle, page_context.day.isoformat()):
        source = next(
            (each["source"] for each in reversed(figure["values"]) if each.get("source")), None
        )
        title = str(source["title"]) if source else "The appliance or its maker"
        label = page_context.labels.get(name, figure["label"])
        groups.setdefault(title, []).append(_figure(name, {**figure, "label": label}))
    return [{"title": title, "figures": figures} for title, figures in groups.items()]


def _kinds(instruments: dict[str, dict[str, Any]]) -> list[dict[str, str]]:
    """What a reader can own: a vent with its area printed on it has no step to type."""
    return [
        {
            "name": name,
            "title": each["title"],
            "unit": unit_text(each["unit"]),
            "alike": each.get("family", name),
        }
        for name, each in instruments.items()
        if parse_quantity(each["resolution"]["value"]).magnitude
    ]


def _not_held(bundle: dict[str, Any], day: str) -> Iterable[tuple[str, dict[str, Any]]]:
    """Figures and tables that a calculator asks for: what none looks up would never be used."""
    asked = [used_by(calculator) for calculator in calculators().values()]
    for name, figure in {**bundle["figures"], **bundle["tables"]}.items():
        if not _is_open(figure, day) or not any(each.fullmatch(name) for each in asked):
            continue
        if "columns" not in figure:
            yield name, {"unit": "", **figure}
        elif can_be_typed(figure["columns"]):
            yield name, {**figure, "label": figure["title"], "unit": ""}


def _is_open(figure: dict[str, Any], day: str) -> bool:
    """Whether it is not held today, or will not be once what stands now has ended."""
    return any(
        value["provenance"] == "not-held" and (value.get("until") or day) >= day
        for value in figure["values"]
    )


def _figure(name: str, figure: dict[str, Any]) -> dict[str, Any]:
    editions = [value["edition"] for value in figure["values"] if value.get("edition")]
    columns = figure.get("columns", ())
    return {
        "name": name,
        "label": figure["label"],
        "meaning": figure.get("meaning", ""),
        "unit": unit_text(figure["unit"]) if figure["unit"] else "",
        "columns": [(each["label"], unit_text(each["unit"])) for each in columns],
        "editions": list(dict.fromkeys(reversed(editions))),
    }
