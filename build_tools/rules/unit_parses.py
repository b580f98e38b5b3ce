"""Every value is a number, a space and a unit; one record's history keeps one kind of unit."""

from collections.abc import Iterator
from typing import Any

from build_tools.problems import Problem
from build_tools.project import Project
from build_tools.read_yaml import Document, Way, dig
from build_tools.rules import Rule
from build_tools.values import quantity

EXPECTED = "A value is a number, a space and a unit, such as 21 mbar."


def check(project: Project) -> Iterator[Problem]:
    """Read each value as the calculators will."""
    for document in project.of_kind("limits", "gases"):
        for name, record in document.value.items():
            values = record.get("values") if isinstance(record, dict) else None
            entries = values if isinstance(values, list) else []
            ways: list[Way] = [
                (name, "values", number, "value")
                for number, each in enumerate(entries)
                if isinstance(each, dict) and isinstance(each.get("value"), str)
            ]
            yield from _one_kind(document, [(way, entries[way[2]]["value"]) for way in ways])
    for document in project.of_kind("instruments", "scenario"):
        for way, text in document.texts():
            if way[-1] == "value":
                yield from _one_kind(document, [(way, text)])
    yield from _readings(project)


def _one_kind(document: Document, values: list[tuple[Way, str]]) -> Iterator[Problem]:
    """Each can be read, and all are of the kind of the first."""
    first: Any = None
    for way, text in values:
        read = quantity(text)
        if read is None:
            fix = "write it like that, with a full stop for the decimals"
            yield document.problem(way, f"'{text}' can't be read.", EXPECTED, fix)
        elif first is not None and read.dimensionality != first.dimensionality:
            found = f"'{text}' is not of the same kind as '{first:~}' above it."
            fix = "use one kind of unit all through, or make another record"
            yield document.problem(way, found, "", fix)
        first = first if first is not None else read


def _readings(project: Project) -> Iterator[Problem]:
    """The visit record names units, and the invented visit's readings are of that kind."""
    record = project.one("visit_record")
    for document in project.of_kind("visit_record"):
        for name, reading in record.items():
            unit = reading.get("unit") if isinstance(reading, dict) else None
            if isinstance(unit, str) and quantity(f"1 {unit}".strip()) is None:
                found = f"'{unit}' is no unit."
                fix = "write a unit such as mbar"
                yield document.problem((name, "unit"), found, "", fix)
    for document in project.of_kind("scenario"):
        readings = document.value.get("readings")
        for name, reading in readings.items() if isinstance(readings, dict) else ():
            unit = dig(record, name, "unit")
            value = quantity(str(reading.get("value"))) if isinstance(reading, dict) else None
            wanted = quantity(f"1 {unit}".strip())
            if value is not None and wanted is not None and not value.check(wanted.dimensionality):
                found = f"'{reading['value']}' is not in a unit like {unit}."
                fix = "give both the same kind of unit"
                yield document.problem(("readings", name, "value"), found, "", fix)


RULE = Rule("unit-parses", "Every value is a number, a space and a unit of one kind.", check)
