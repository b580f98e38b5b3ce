"""Broken files for each rule, and what its author is told."""

from pathlib import Path
from typing import Any

import pytest

from build_tools.sources.calculator_spec import CalculatorSpec
from build_tools.sources.read_yaml import read_file
from build_tools.sources.rule import rules

FOLDER = Path(__file__).parent
RULES = {rule.name: rule for rule in rules()}


def stories() -> list[Any]:
    """Every case of every file in tests/broken."""
    found = []
    for path in sorted(FOLDER.glob("*.yaml")):
        document = read_file(path, path.name)
        assert document.problems == []
        for case in document.value["cases"]:
            name = document.value["rule"]
            found.append(pytest.param(RULES[name], case, id=f"{name}:{case['id']}"))
    return found


def declared(given: dict[str, Any]) -> CalculatorSpec:
    """A calculator's declarations from the lists of a case."""
    plain = {key: tuple(value) for key, value in given.items() if isinstance(value, list)}
    options = {
        name: {key: tuple(value) for key, value in given[name].items()}
        for name in ("inputs",)
        if name in given
    }
    columns = {
        table: {key: tuple(value) for key, value in inner.items()}
        for table, inner in given.get("columns", {}).items()
    }
    charts = {name: tuple(series) for name, series in given.get("charts", {}).items()}
    named = {key: given.get(key, {}) for key in ("measures", "defaults", "units")}
    return CalculatorSpec(**plain, **options, columns=columns, charts=charts, **named)
