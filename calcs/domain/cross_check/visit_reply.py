"""Whether the readings of a visit fit each other, in the shape that its page shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from calcs.domain.cross_check.examine import MISFITS
from calcs.domain.cross_check.findings import EXAMINED, NAME, TAKE, UNSEEN, Told
from calcs.domain.cross_check.of_visit import INPUTS_OF, NotCovered, Taken, taken_of
from calcs.engine import answer as answering
from calcs.engine.errors import Refused
from calcs.engine.held_to import Known
from calcs.engine.own_figures import with_own
from calcs.engine.parse_value import day_of
from calcs.engine.reference import Reference
from calcs.engine.registry import calculators, labels
from calcs.engine.request_errors import WrongForm
from calcs.engine.step_inputs import counting, instruments_for
from calcs.engine.units import join_unit, unit_text
from calcs.engine.visit_outcomes import known_of, told_of

ID = "cross_check"
CANNOT_TELL = "cannot_tell"
LEAST = 2  # ways of one thing: a single one has nothing beside it


def reply(request: Mapping[str, Any], reference: Reference) -> dict[str, Any]:
    """What the readings of one appliance say together.

    Args:
        request: As for the lines of steps: `today`, `readings`, `answers`, `own`, `instruments`.
            And `appliances`, how many the visit has.
        reference: Figures and words.

    Returns:
        `{"cross_check": …}`, or `{"refused": [...]}` where a figure of the reader's own can't be
        used. Its `outcome` is that of the verdict; `text` and `act` its words; `explained` what it
        points to; `doubt` the readings that carry it; `take` the reading to take next and `helpful`
        those that would help, each with its `step`; `unseen` what could not have shown; `pictures`
        what each reading says of one thing; `count` how many readings were taken.
    """
    try:
        known, _ = known_of(request, reference)
    except WrongForm as wrong:
        return {"refused": [wrong.as_json({})]}
    except Refused as refused:
        return {"refused": told_of(refused, reference)}
    data = reference.cross_check
    try:
        taken = taken_of(known, int(request.get("appliances") or 1), data)
    except NotCovered as why:
        return {ID: _not_covered(str(why), reference)}
    try:
        return {ID: _found(taken, known, request, reference)}
    except Refused as refused:
        return {ID: _refused(refused, taken, reference)}


def _found(
    taken: Taken, known: Known, request: Mapping[str, Any], reference: Reference
) -> dict[str, Any]:
    calculator, today = calculators()[ID], day_of(request)
    chosen = {name: {"value": kind} for name, kind in instruments_for(ID, known).items()}
    first, _ = answering.begin(
        calculator,
        reference,
        counting(ID, {**chosen, **taken.inputs}),
        today,
        with_own(request, calculator, reference, today),
        instruments=known.in_force.instruments,
    )
    told: Told = reference.kept.pop(EXAMINED)
    verdict = first["verdicts"][0]
    notes = _by_kind(first["notes"])
    words = reference.sayings(ID, "notes")
    steps = reference.cross_check["visit"]["steps"]
    taken_in = {**steps, **reference.cross_check["visit"]["again_in"]}
    take = next(iter(notes[TAKE]), None)
    return {
        "outcome": verdict["outcome"],
        "reason": told.examined.outcome,
        "text": verdict["found"],
        "act": verdict["act"],
        "explained": [note["text"] for note in notes["explained"]],
        "doubt": list(_doubt(told, taken, known)),
        "take": take and {"text": take["text"], "step": taken_in.get(told.take or "", "")},
        "helpful": [_linked(words.get(f"{NAME}{one}", one), one, steps) for one in told.helpful],
        "unseen": " ".join(note["text"] for note in notes[UNSEEN]),
        "pictures": list(_pictures(first["answers"], reference)),
        "count": len({name for way in taken.behind.values() for name in way}),
    }


def _linked(text: str, name: str, steps: Mapping[str, str]) -> dict[str, str]:
    return {"text": text, "step": steps.get(name, "")}


def _by_kind(notes: Iterable[Mapping[str, str]]) -> dict[str, list[Mapping[str, str]]]:
    """Notes by what they are: what explains the misfit, what to take, what could not have shown."""
    found: dict[str, list[Mapping[str, str]]] = {"explained": [], TAKE: [], UNSEEN: []}
    for note in notes:
        name = note["name"]
        is_take = name.startswith(TAKE) or name == "never_apart"
        kind = TAKE if is_take else UNSEEN if name == UNSEEN else "explained"
        if name != "would_help":
            found[kind].append(note)
    return found


def _doubt(told: Told, taken: Taken, known: Known) -> Iterator[dict[str, str]]:
    """Readings that are wrong in the likeliest explanations, the likeliest first."""
    if told.examined.outcome != MISFITS:
        return
    families = [one.name for one in told.examined.held]
    errors = [
        error
        for family in families
        for one in told.case.signatures
        if one.family == family
        for error in one.errors
    ]
    inputs = dict.fromkeys(field for error in errors for field in INPUTS_OF.get(error, ()))
    names = dict.fromkeys(name for field in inputs for name in taken.behind.get(field, ()))
    for name in names:
        cell = known.typed[name]
        unit = unit_text(cell["unit"] or known.readings[name]["unit"])
        text = join_unit(str(cell["value"]).strip(), unit)
        yield {"name": name, "label": known.label(name), "text": text}


def _pictures(answers: Sequence[Mapping[str, Any]], reference: Reference) -> Iterator[Any]:
    """What each reading says of one thing, where there are at least two that do."""
    known = {one["name"]: one for one in answers}
    for chart in reference.words(ID)["charts"].values():
        rows = [
            {
                "label": label,
                "value": known[name]["value"],
                "expanded": known[name]["uncertainty"] or 0,
                "text": f"{known[name]['text']} {known[name]['uncertainty_text']}".strip(),
            }
            for name, label in chart["series"].items()
            if name in known
        ]
        if len(rows) >= LEAST:
            yield {"title": chart["label"], "rows": rows}


def _empty(outcome: str, reason: str, text: str, act: str = "") -> dict[str, Any]:
    lists: dict[str, Any] = {"explained": [], "doubt": [], "helpful": [], "pictures": []}
    head = {"outcome": outcome, "reason": reason, "text": text, "act": act}
    return {**head, **lists, "take": None, "unseen": "", "count": 0}


def _not_covered(why: str, reference: Reference) -> dict[str, Any]:
    """No answer of which burner, or a gas that nothing is held for."""
    said = _empty(CANNOT_TELL, why, reference.sayings(ID, "notes")[why])
    step = reference.cross_check["visit"]["burner_asked_in"] if why == "no_burner" else ""
    return {**said, "take": {"text": "", "step": step} if step else None}


def _refused(refused: Refused, taken: Taken, reference: Reference) -> dict[str, Any]:
    """Readings that can't be so: which, and why."""
    words = labels(calculators()[ID], reference)
    said = reference.sayings(ID, "refusals")
    told = [str(each.as_json(words, said)["message"]) for each in refused.refusals]
    names = [each.field or "" for each in refused.refusals]
    behind = dict.fromkeys(name for field in names for name in taken.behind.get(field, ()))
    doubt = [
        {"name": name, "label": str(reference.readings[name]["label"]), "text": ""}
        for name in behind
    ]
    return {**_empty(CANNOT_TELL, "refused", " ".join(told)), "doubt": doubt}
