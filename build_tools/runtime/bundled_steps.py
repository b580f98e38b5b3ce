"""The steps that answer: what each takes of a visit, and what it holds that to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from build_tools.sources.project import Project, stem_of

ANY_STATE = "any"  # of a reading that does not change with how the appliance runs


def steps(project: Project) -> dict[str, dict[str, Any]]:
    """Every step that declares an outcome, by `procedure.step`."""
    readings = project.one("visit_record")
    examples = {
        stem_of(each.file): each.value.get("example", {}).get("given", {})
        for each in project.of_kind("calculator")
    }
    return {
        f"{stem_of(document.file)}.{step['id']}": _step(step, readings, examples)
        for document in project.of_kind("procedure")
        for step in document.value.get("steps", [])
        if "outcome" in step
    }


def readings(project: Project) -> dict[str, dict[str, str]]:
    """Label and unit of every reading."""
    return {
        name: {"label": each["label"], "unit": each["unit"]}
        for name, each in project.one("visit_record").items()
    }


def _step(
    step: Mapping[str, Any], readings: Mapping[str, Any], examples: Mapping[str, Any]
) -> dict[str, Any]:
    outcome = dict(step["outcome"])
    outcome["needs"] = _listed(outcome.get("needs", step["reading"]))
    own = _listed(step["reading"])
    taken = {*own, *_listed(outcome.pop("with", [])), *step.get("gives", {}).values()}
    calculator = step.get("calculator") if "verdicts" in outcome else None
    takes = _taken(examples[calculator], taken, readings) if calculator else {}
    return {
        "readings": own,
        "calculator": calculator,
        "takes": {**takes, **(step.get("gives", {}) if calculator else {})},
        "outcome": outcome,
    }


def _taken(given: Mapping[str, Any], names: set[str], readings: Mapping[str, Any]) -> Any:
    """What a worked example gives, as far as a visit at this step can give it too.

    A choice of the example belongs to the invented visit, and a reading of another step may have
    been taken in another state.
    """
    found: dict[str, Any] = {}
    for name, behind in given.items():
        if isinstance(behind, list):
            rows = [_taken(row, names, readings) for row in behind]
            if all(rows):
                found[name] = rows
        elif behind in names or readings.get(behind, {}).get("state") == ANY_STATE:
            found[name] = behind
    return found


def _listed(value: Any) -> list[Any]:
    return [value] if isinstance(value, str) else list(value)
