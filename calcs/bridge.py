"""JSON text in, JSON text out: all that the browser knows of the calculators."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date
from functools import cached_property
from typing import Any

from calcs.domain.cross_check import visit_reply
from calcs.engine import answer as answering
from calcs.engine import own_figures, visit_outcomes
from calcs.engine.declarations import Calculator
from calcs.engine.describe import describe
from calcs.engine.errors import Refusal, Refused
from calcs.engine.own_instruments import instruments_of
from calcs.engine.parse_value import day_of
from calcs.engine.reference import Reference
from calcs.engine.registry import calculators, labels
from calcs.engine.request_errors import NotAnOption, WrongForm
from calcs.engine.request_form import kind_of

# What is asked of readings and figures that are kept, and of no form.
OF_A_VISIT = {
    "outcomes": visit_outcomes.reply,
    "cross_check": visit_reply.reply,
    "own": own_figures.reply,
}


class Bridge:
    """The calculators together with one edition's figures.

    Args:
        bundle: Figures and words as JSON text, made by the build.
    """

    def __init__(self, bundle: str) -> None:
        self.reference = Reference(json.loads(bundle))
        self._rest: Callable[[], dict[str, Any]] | None = None

    def answer(self, request: str) -> str:
        """Reply to one request; never raises.

        The action `begin` gives what `run` gives without the rest of the answer, which is how it
        came about. The action `rest`, right after it, gives that.

        The action `outcomes` gives the line of each step that is asked for, of one visit;
        `cross_check` whether the readings of one appliance of it fit each other; `own`
        what holds of the figures that a reader keeps from copies of their own; `practice` a
        question, or what is said to an answer (`calcs.practice.door`).

        Returns:
            One of `{"answer": …}`, `{"rest": …}`, `{"outcomes": …}`, `{"cross_check": …}`,
            `{"own": …}`, `{"list": …}`, `{"show": …}`, `{"practice": …}`, `{"refused": [...]}` and
            `{"failed": {...}}`.
        """
        try:
            return json.dumps(self.reply(json.loads(request)), ensure_ascii=False, allow_nan=False)
        except Exception as problem:  # noqa: BLE001
            return json.dumps(_fault(problem), ensure_ascii=False)

    def reply(self, request: Mapping[str, Any]) -> dict[str, Any]:
        """The same, from what a JSON text holds to what one is made of."""
        try:
            return self._reply(request)
        except Exception as problem:  # noqa: BLE001
            return _fault(problem)

    def _reply(self, request: Mapping[str, Any]) -> dict[str, Any]:
        if not isinstance(request, dict):
            form = WrongForm("request", found=kind_of(request), expected="an object")
            return {"refused": [form.as_json({})]}
        action = request.get("action", "run")
        known = calculators()
        if action == "list":
            return {"list": [self._listed(name) for name in known]}
        if action == "rest":
            return {"rest": self._taken_rest()}
        if action in OF_A_VISIT:
            return OF_A_VISIT[action](request, self.reference)
        if action == "practice":
            # Late: only the page of practice and the command line bring it.
            from calcs.practice import door  # noqa: PLC0415

            return door.reply(request, self._reply)
        name = str(request.get("calculator"))
        if name not in known:
            refusal = NotAnOption("calculator", found=name, options=", ".join(known), nearest="")
            return {"refused": [refusal.as_json({"calculator": "The handbook"})]}
        try:
            today = day_of(request)
        except Refused as refused:
            return {"refused": [refusal.as_json({}) for refusal in refused.refusals]}
        if action == "show":
            return {"show": describe(known[name], self.reference, today)}
        return self._run(name, request, today)

    def _listed(self, name: str) -> dict[str, str]:
        words = self.reference.words(name)
        return {
            "id": name,
            "title": words.get("title", name),
            "summary": words.get("summary", ""),
            "group": words.get("group", ""),
        }

    def _run(self, name: str, request: Mapping[str, Any], today: date) -> dict[str, Any]:
        calculator = calculators()[name]
        given = request.get("inputs", {})
        if not isinstance(given, dict):
            form = WrongForm("inputs", found=kind_of(given), expected="an object, by name")
            return {"refused": [form.as_json({})]}
        self._rest = None
        try:
            overrides = own_figures.with_own(request, calculator, self.reference, today)
            mine = instruments_of(request, self.reference, today)
            first, self._rest = answering.begin(
                calculator, self.reference, given, today, overrides, instruments=mine
            )
        except Refused as refused:
            words = _field_labels(self._labels(calculator), refused.refusals)
            said = self.reference.sayings(name, "refusals")
            return {"refused": [refusal.as_json(words, said) for refusal in refused.refusals]}
        # The frozen Python knows no edition: who asks it says which edition this is.
        first["edition"] = request.get("edition", first["edition"])
        rest = {} if request.get("action") == "begin" else self._taken_rest()
        return {"answer": {**first, **rest}}

    def _labels(self, calculator: Calculator) -> dict[str, str]:
        """Words for inputs, outputs and the figures that a reader may give their own for."""
        return {**self._figure_labels, **labels(calculator, self.reference)}

    @cached_property
    def _figure_labels(self) -> dict[str, str]:
        """Words for every figure and table. A form that is refused at each key needs them anew."""
        held = {name: self.reference.facts(name) for name in self.reference.names}
        return {name: str(one.get("label") or one.get("title")) for name, one in held.items()}

    def _taken_rest(self) -> dict[str, Any]:
        """The rest of the answer that was begun last, once."""
        rest, self._rest = self._rest, None
        if rest is None:
            raise RuntimeError("No answer was begun whose rest could be given.")
        return rest()


def _fault(problem: Exception) -> dict[str, Any]:
    """A fault in the code is told as such: the worker and the page must go on."""
    message = f"{type(problem).__name__}: {problem}"
    return {"failed": {"kind": "internal_error", "message": message}}


def _field_labels(words: Mapping[str, str], refusals: list[Refusal]) -> dict[str, str]:
    """Labels, and for a cell of a table its column and row."""
    found = dict(words)
    for refusal in refusals:
        if refusal.field and "[" in refusal.field:
            table, _, cell = refusal.field.partition("[")
            place, _, column = cell.partition("]")
            column = column.removeprefix(".")
            otherwise = words.get(column, column.replace("_", " "))
            label = (
                words.get(f"{table}[].{column}", otherwise) if column else words.get(table, table)
            )
            found[refusal.field] = f"{label}, row {int(place) + 1}"
            found.setdefault(table, table.replace("_", " "))
    return found


_loaded: list[Bridge] = []


def load(bundle: str) -> None:
    """Set the edition that `answer` uses: once, when the runtime starts."""
    _loaded.clear()
    _loaded.append(Bridge(bundle))


def answer(request: str) -> str:
    """Reply to one request with the edition loaded; see `Bridge.answer`."""
    if not _loaded:
        return json.dumps(
            {"failed": {"kind": "NotLoaded", "message": "calcs.bridge.load was not called."}}
        )
    return _loaded[0].answer(request)
