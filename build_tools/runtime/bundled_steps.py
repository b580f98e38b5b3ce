"""The steps that answer: what each takes of a visit, and what it holds that to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from build_tools.sources.project import Project, stem_of

ANY_STATE = "any"  # of a reading that does not change with how the appliance runs


def steps(project: Project) -> dict[str, dict[str, Any]]:
    """Every step that declares an outcome of its own, by `procedure.step`."""
    readings = project.one("visit_record")
    words = {stem_of(each.file): each.value for each in project.of_kind("calculator")}
    return {
        f"{stem_of(document.file)}.{step['id']}": _step(step, readings, words)
        for document in project.of_kind("procedure")
        for step in document.value.get("steps", [])
        if "judged_in" not in step.get("outcome", {"judged_in": ""})
    }


def readings(project: Project) -> dict[str, dict[str, str]]:
    """Label and unit of every reading."""
    return {
        name: {"label": each["label"], "unit": each["unit"]}
        for name, each in project.one("visit_record").items()
    }


def assumed(project: Project) -> dict[str, str]:
    """What is taken for the answer to each question of the visit that has such an answer."""
    return {
        name: question["assumed"]
        for document in project.of_kind("procedure")
        for name, question in document.value.get("questions", {}).items()
        if "assumed" in question
    }


def _step(
    step: Mapping[str, Any], readings: Mapping[str, Any], words: Mapping[str, Any]
) -> dict[str, Any]:
    outcome = dict(step["outcome"])
    own = _listed(step["reading"])
    outcome["needs"] = _listed(outcome.get("needs", outcome.get("of", own)))
    calculator = outcome.pop("calculator", step.get("calculator"))
    if "verdicts" not in outcome:
        return {"readings": own, "calculator": None, "takes": {}, "outcome": outcome}
    gives = {**step.get("gives", {}), **outcome.pop("gives", {})}
    names = {*own, *outcome.pop("with", []), *gives.values()}
    takes = {**_taken(words[calculator]["example"]["given"], names, readings), **gives}
    for name in outcome.pop("leaves_out", []):
        takes.pop(name, None)
    return {
        "readings": own,
        "calculator": calculator,
        "takes": takes,
        "outcome": outcome,
        "answers": words[calculator].get("answers", {}),
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
