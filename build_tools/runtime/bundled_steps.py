"""The steps that answer: what each takes of a visit, and what it holds that to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from build_tools.sources.outcome_form import RELATIONS
from build_tools.sources.project import Project, stem_of
from build_tools.sources.read_yaml import texts_in

ANY_STATE = "any"  # of a reading that does not change with how the appliance runs
AS_FOUND = "found"  # what was put right keeps the line that it had before


def steps(project: Project) -> dict[str, dict[str, Any]]:
    """Every step that declares an outcome of its own, by `procedure.step`.

    Of a check as found and as left there are two: the step's own line, and `procedure.step.found`,
    which keeps in the record how it was before it was put right.
    """
    readings = project.one("visit_record")
    words = {stem_of(each.file): each.value for each in project.of_kind("calculator")}
    found = {}
    for document in project.of_kind("procedure"):
        for step in document.value.get("steps", []):
            if "judged_in" in step.get("outcome", {"judged_in": ""}):
                continue
            name = f"{stem_of(document.file)}.{step['id']}"
            found[name] = _step(step, readings, words)
            if _is_pair(step):
                found[f"{name}.{AS_FOUND}"] = _as_found(found[name])
    return _with_pairs(found)


def _with_pairs(steps: dict[str, dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """What one step sees of two figures that can't both be right, in each step that it concerns."""
    pairs = [pair for step in steps.values() for pair in step["outcome"].get("seen", ())]
    for step in steps.values():
        names = set(texts_in([step["readings"], step["takes"], step["outcome"].get("held_to", [])]))
        own = step["outcome"].get("seen", [])
        if both := [*own, *(pair for pair in pairs if _ends(pair) <= names and pair not in own)]:
            step["outcome"] = {**step["outcome"], "seen": both}
    return steps


def _ends(pair: Mapping[str, Any]) -> set[str]:
    """What a step must take to see a pair: both figures; of two that were measured, the later."""
    other = next(pair[key] for key in RELATIONS if key in pair)
    return {pair["of"]} if "read_with" in pair else {pair["of"], other}


def _is_pair(step: Mapping[str, Any]) -> bool:
    return "options" in step["outcome"] and len(_listed(step["reading"])) > 1


def _as_found(step: Mapping[str, Any]) -> dict[str, Any]:
    """What was found, once it is known how it was left."""
    outcome = {"options": step["outcome"]["options"], "needs": step["readings"]}
    return {**step, "readings": step["readings"][:1], "outcome": outcome}


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
    outcome.pop("unsafe", None)  # for the page alone: where the reader is led
    own = _listed(step["reading"])
    outcome["needs"] = _listed(outcome.get("needs", outcome.get("of", own)))
    if "options" in outcome:
        outcome["needs"] = [] if _is_pair(step) else own
        if stops := _listed(step.get("stop", [])):
            outcome.setdefault("outside", stops[0])  # the act of a check that is not in order
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
