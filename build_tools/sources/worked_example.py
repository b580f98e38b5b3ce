"""The worked example of a calculator: readings of the invented visit, as a reader types them."""

from collections.abc import Mapping
from typing import Any

from build_tools.sources.project import Project, stem_of
from build_tools.sources.read_yaml import get_path

LITERAL = "="  # `=index` is the choice itself; any other text names a reading


def examples(project: Project) -> dict[str, dict[str, Any]]:
    """What is typed in each input, by calculator."""
    readings = project.one("scenario").get("readings", {})
    given = {
        stem_of(document.file): get_path(document.value, "example", "given") or {}
        for document in project.of_kind("calculator")
    }
    return {
        stem: {name: as_typed(value, readings) for name, value in inputs.items()}
        for stem, inputs in given.items()
    }


def as_typed(value: Any, readings: Mapping[str, Any]) -> dict[str, Any]:
    """One input, empty where there is no such reading: the rule example-known tells of that."""
    if isinstance(value, list):
        rows = [{name: as_typed(each, readings) for name, each in row.items()} for row in value]
        return {"rows": rows}
    if str(value).startswith(LITERAL):
        return {"value": str(value).removeprefix(LITERAL)}
    return {"value": get_path(readings, value, "value") or ""}
