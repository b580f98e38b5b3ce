"""Every figure says what its values are, and every value is that."""

from collections.abc import Iterator
from typing import Any

from build_tools.sources.parse_value import (
    COUNT,
    EDITION,
    NUMBER,
    WORD,
    measure_of,
    misfit,
    quantity,
)
from build_tools.sources.problems import Problem, listing
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import Document, KeyPath, get_path
from build_tools.sources.rule import Rule

EXPECTED = "A value is a number, a space and a unit, such as 21 mbar."
DECLARED = "A figure declares 'unit', such as mbar, or for values without a unit 'kind'."
KINDS = f"{NUMBER}, {COUNT}, {EDITION} or {WORD}"


def check(project: Project) -> Iterator[Problem]:
    """Read each value as the calculators will, and hold it against what its figure declares."""
    for document in project.of_kind("limits", "gases"):
        for name, figure in document.value.items():
            if isinstance(figure, dict):
                values = list(_dated(name, figure))
                yield from declared(document, (name,), figure, [text for _, text in values])
                yield from fit(document, values, figure)
                yield from _half_widths(document, name, figure)
    for document in project.of_kind("instruments"):
        for name, instrument in document.value.items():
            if isinstance(instrument, dict):
                yield from _instrument(document, name, instrument)
    yield from _readings(project)


def declared(
    document: Document, key_path: KeyPath, holder: dict[str, Any], values: list[str]
) -> Iterator[Problem]:
    """Either a unit that is one or a kind, and not both. Given to columns of tables too."""
    unit, kind = holder.get("unit"), holder.get("kind")
    if unit is None and kind is None:
        text = values[0] if values else ""
        own = text.partition(" ")[2]
        fix = f"add 'unit: {own}', if that is meant" if own else f"add 'unit', or 'kind': {KINDS}"
        yield document.problem(key_path, "It does not say what its values are.", DECLARED, fix)
    elif unit is not None and kind is not None:
        fix = "keep one of them"
        yield document.problem((*key_path, "kind"), "It has both 'unit' and 'kind'.", DECLARED, fix)
    elif isinstance(unit, str) and measure_of(unit) is None:
        fix = "write a unit such as mbar"
        yield document.problem((*key_path, "unit"), f"'{unit}' is no unit.", "", fix)


def _dated(name: str, figure: dict[str, Any]) -> Iterator[tuple[KeyPath, str]]:
    values = figure.get("values")
    for number, each in enumerate(values if isinstance(values, list) else []):
        if isinstance(each, dict) and isinstance(each.get("value"), str):
            yield (name, "values", number, "value"), each["value"]


def _half_widths(document: Document, name: str, figure: dict[str, Any]) -> Iterator[Problem]:
    """Half of the range that a value stands for is in the figure's unit, or a share of it."""
    values = figure.get("values")
    for number, _ in enumerate(values if isinstance(values, list) else []):
        text = get_path(values, number, "half_width", "value")
        if isinstance(text, str):
            holder = {"unit": "percent"} if text.endswith(" percent") else figure
            key_path: KeyPath = (name, "values", number, "half_width", "value")
            yield from fit(document, [(key_path, text)], holder)


def fit(
    document: Document, values: list[tuple[KeyPath, str]], holder: dict[str, Any]
) -> Iterator[Problem]:
    """Each value is what its holder declares. Given to columns of tables too."""
    for key_path, text in values:
        if wrong := misfit(text, holder):
            expected = EXPECTED if quantity(text) is None else ""
            yield document.problem(key_path, wrong[0], expected, wrong[1])


def _instrument(document: Document, name: str, instrument: dict[str, Any]) -> Iterator[Problem]:
    """Its step is in its unit. Its accuracy is too, or a share of the reading."""
    if "unit" in instrument:  # where it lacks one, the shape says so
        yield from declared(document, (name,), instrument, [])
    for key in ("resolution", "accuracy"):
        text = get_path(instrument, key, "value")
        is_share = key == "accuracy" and isinstance(text, str) and text.endswith(" percent")
        holder = {"unit": "percent"} if is_share else instrument
        if isinstance(text, str):
            yield from fit(document, [((name, key, "value"), text)], holder)


def _readings(project: Project) -> Iterator[Problem]:
    """The visit record names units, and the invented visit's readings are of that kind."""
    record = project.one("visit_record")
    key_path: KeyPath
    for document in project.of_kind("visit_record"):
        for name, reading in record.items():
            unit = reading.get("unit") if isinstance(reading, dict) else None
            if isinstance(unit, str) and measure_of(unit) is None:
                found = f"'{unit}' is no unit."
                fix = "write a unit such as mbar"
                yield document.problem((name, "unit"), found, "", fix)
            if get_path(reading, "options") is not None and unit:
                found = f"What is chosen has no unit, and this says {unit}."
                fix = "write 'unit: \"\"', or delete 'options'"
                yield document.problem((name, "unit"), found, "", fix)
    for document in project.of_kind("scenario"):
        readings = document.value.get("readings")
        for name, reading in readings.items() if isinstance(readings, dict) else ():
            text, unit = get_path(reading, "value"), get_path(record, name, "unit")
            options = get_path(record, name, "options")
            if isinstance(options, list):
                if text not in options:
                    found = f"'{text}' is none of what can be chosen: {listing(options)}."
                    key_path = ("readings", name, "value")
                    yield document.problem(key_path, found, "", "write one of those")
                continue
            holder = {"unit": unit} if unit else {"kind": NUMBER}
            if isinstance(text, str):
                key_path = ("readings", name, "value")
                yield from fit(
                    document, [(key_path, text)], holder if isinstance(unit, str) else {}
                )


RULE = Rule("unit-parses", "Every value is what its figure declares: its unit or its kind.", check)
