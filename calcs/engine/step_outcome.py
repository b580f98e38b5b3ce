"""What a step says of the readings typed in it: what holds, how they came out, what to do next.

A step names verdicts of a calculator, or says itself what its one reading is held to. Either way a
calculator judges it, with the uncertainty of the instrument; here its verdict becomes one line.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calcs.engine import answer as answering
from calcs.engine.errors import Missing, Refusal, Refused
from calcs.engine.held_to import HeldTo, Known, held_to, missing
from calcs.engine.overrides import used_by
from calcs.engine.reference import Reference
from calcs.engine.registry import calculators, labels
from calcs.engine.units import join_unit, round_half_up, short_number

JUDGE = "reading_verdict"  # the calculator that takes any reading and any limit
AS_IT_READS = "simple"  # how a setting is held to its plate
STATES = {  # the gravest first
    "does_not_meet": "outside",
    "cannot_tell": "too_close",
    "not_judged": "not_judged",
    "meets": "within",
}
NOT_JUDGED = "not_judged"
WAITING = "waiting"  # nothing of the step was typed, or not all that it takes
REFUSED = "refused"  # what was typed can't be so


@dataclass(frozen=True)
class Step:
    """A step as the bundle has it.

    Args:
        readings: Names of what is typed in it.
        calculator: Whose verdicts it shows; None where it says itself what its reading is held to.
        takes: Reading behind each input of the calculator, in the form of a worked example: a name,
            or rows of names.
        outcome: What its author declared: `verdicts`, `needs`, `set`, `held_to`, `instrument`, and
            words for each state.
    """

    readings: Sequence[str]
    calculator: str | None
    takes: Mapping[str, Any]
    outcome: Mapping[str, Any]


def step_outcome(
    step: Step, reference: Reference, known: Known, overrides: Mapping[str, Any] | None = None
) -> dict[str, Any]:
    """The line of one step.

    Args:
        step: What is asked.
        reference: Figures and words.
        known: What the visit knows, and the day.
        overrides: Figures of the reader's own copy of a source, by name.

    Returns:
        `state`, and `text` that says it; the `reading` that it stands beside, and its `label`;
        `held_to`, a limit and where it is from, or None; `act` and `reason`; `missing`, labels;
        `scale`, the numbers of a drawing, or None; and the `verdicts` in full, for the record.
    """
    line = _Line(step, reference, known, overrides or {})
    try:
        return line.told()
    except Refusal as refusal:
        return line.refused([refusal])
    except Refused as refused:
        return line.refused(refused.refusals)


class _Line:
    def __init__(
        self,
        step: Step,
        reference: Reference,
        known: Known,
        overrides: Mapping[str, Any],
    ) -> None:
        self.step, self.reference, self.known = step, reference, known
        self.overrides = overrides
        self.calculator = calculators()[step.calculator or JUDGE]
        self.words: Mapping[str, Any] = reference.words("_shared")["outcomes"]
        self.held: HeldTo | None = None

    def told(self) -> dict[str, Any]:
        ways = self.step.outcome.get("held_to", ())
        self.held = held_to(ways, self.known)
        needed = self.step.outcome.get("needs", self.step.readings)
        lacking = [name for name in needed if not self.known.has(name)]
        if lacking:
            is_begun = any(map(self.known.has, self.step.readings))
            return self._open(WAITING, lacking if is_begun else ())
        if self.step.calculator is None and self.held is None:
            return self._open(NOT_JUDGED, missing(ways, self.known))
        verdicts, notes = self._verdicts()
        if not verdicts:
            return self._open(NOT_JUDGED, missing(ways, self.known))
        return self._closed(verdicts, notes)

    def _verdicts(self) -> tuple[list[dict[str, Any]], list[dict[str, str]]]:
        """The verdicts that the step shows, the gravest first, and the notes that go with them."""
        inputs = self._inputs() if self.held_alone is None else self._between(self.held_alone)
        used = used_by(self.calculator)
        own = {name: text for name, text in self.overrides.items() if used.fullmatch(name)}
        first, _ = answering.begin(
            self.calculator, self.reference, inputs, self.known.in_force.on, own
        )
        if self.held_alone is not None:
            return [self._own(verdict, self.held_alone) for verdict in first["verdicts"]], []
        shown = self.step.outcome["verdicts"]
        found = [verdict for verdict in first["verdicts"] if verdict["name"] in shown]
        order = list(STATES)
        return sorted(found, key=lambda each: order.index(each["outcome"])), first["notes"]

    def _inputs(self) -> dict[str, Any]:
        """What the calculator is asked, of what the visit knows."""
        chosen = {
            name: {"value": value} for name, value in self.step.outcome.get("set", {}).items()
        }
        return {**self._typed(self.step.takes), **chosen}

    def _typed(self, takes: Mapping[str, Any]) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for name, behind in takes.items():
            if isinstance(behind, str):
                if self.known.has(behind):
                    found[name] = self._cell(behind)
            else:
                found[name] = {"rows": [self._typed(row) for row in behind]}
        return found

    def _cell(self, name: str) -> dict[str, str]:
        cell = self.known.typed[name]
        unit = str(cell.get("unit") or self.known.readings[name]["unit"])
        return {"value": str(cell["value"]), "unit": unit}

    @property
    def held_alone(self) -> HeldTo | None:
        """The limits, where the step gives them and no calculator does."""
        return self.held if self.step.calculator is None else None

    def _between(self, held: HeldTo) -> dict[str, Any]:
        """What the calculator is asked for a reading between limits."""
        name = self.step.readings[0]
        unit = str(self.known.readings[name]["unit"])
        inputs: dict[str, Any] = {"reading": self._cell(name)}
        for side, limit in (("low_limit", held.low), ("high_limit", held.high)):
            if limit is not None:
                number = short_number(float(limit.to(unit).magnitude), 12)
                inputs[side] = {"value": number, "unit": unit}
        if held.plate is not None:
            inputs["decision_rule"] = {"value": AS_IT_READS}
        return {**inputs, "instrument": {"value": self.step.outcome["instrument"]}}

    def _own(self, verdict: Mapping[str, Any], held: HeldTo) -> dict[str, Any]:
        """A verdict on limits that the step gave, with its own label and source."""
        figure = held.figure
        source = {
            "label": self.known.readings[self.step.readings[0]]["label"],
            "source": figure.source_text if figure else self.words["sources"][held.source],
            "provenance": figure.provenance if figure else "instructions-govern",
            "edition": figure.edition if figure else None,
            "in_force": figure.first_day if figure else None,
        }
        return {**verdict, **source, "text": " ".join(filter(None, self._parts(verdict)))}

    @staticmethod
    def _parts(verdict: Mapping[str, Any]) -> tuple[str, str]:
        return verdict["found"], verdict["settles"]

    def _closed(
        self, verdicts: Sequence[Mapping[str, Any]], notes: Sequence[Mapping[str, str]]
    ) -> dict[str, Any]:
        """A line with a verdict in it."""
        gravest = verdicts[0]
        state, scale = STATES[gravest["outcome"]], gravest["scale"]
        side = _side(scale) if state == "outside" else ""
        own = self.step.outcome
        shared = self.words["acts"].get(state, "")
        act = own.get(side) or own.get(state) or gravest["act"] or shared
        said = {note["name"]: note["text"] for note in notes}
        reasons = [said[name] for name in own.get("notes", ()) if name in said]
        lacking = missing(own.get("held_to", ()), self.known) if state == NOT_JUDGED else ()
        line = self._open(state, lacking)
        return {
            **line,
            "held_to": self._held_text() or self._limit_of(gravest),
            "label": gravest["label"],
            "text": self._text(state, self._off(side, scale), line["missing"]),
            "act": act,
            "reason": gravest["settles"] if state == "too_close" else " ".join(reasons[:1]),
            "scale": scale,
            "verdicts": [dict(verdict) for verdict in verdicts],
        }

    def _text(self, state: str, off: str, lacking: Sequence[str]) -> str:
        """Outcome, how far off it is, and what is missing."""
        word = self.words["states"].get(state, "")
        found = f"{word}, {off}." if off else f"{word}." if word else ""
        wanted = self.words["missing"].format(names=", ".join(lacking)) if lacking else ""
        return " ".join(filter(None, (found, wanted)))

    def _off(self, side: str, scale: Mapping[str, Any] | None) -> str:
        """How far a reading is from what it is set to, or else beyond its limit."""
        if not side or scale is None:
            return ""
        bound = scale[side]
        if self.held is not None and self.held.plate is not None:
            bound = float(self.held.plate.to(scale["unit"]).magnitude)
        width = round_half_up(abs(scale["reading"] - bound), scale["places"])
        return str(self.words[side]).format(width=join_unit(width, scale["unit"]))

    def _held_text(self) -> dict[str, str] | None:
        if self.held is None:
            return None
        unit = str(self.known.readings[self.step.readings[0]]["unit"])
        unit = str(self.step.outcome.get("unit", unit))
        limit = self.held.limit(unit)
        form = "limit" if self.held.plate is None else "plate"
        text = self.words["held_to"][form].format(plate=self.held.plate_text(unit), limit=limit)
        return {"text": _capital(text), "source": self.words["sources"][self.held.source]}

    def _limit_of(self, verdict: Mapping[str, Any]) -> dict[str, str] | None:
        if not verdict["limit"]:
            return None
        return {
            "text": _capital(verdict["limit"]),
            "source": self.words["sources"].get(verdict["provenance"], ""),
        }

    def _open(self, state: str, lacking: Iterable[str]) -> dict[str, Any]:
        """A line without a verdict: what is missing is named."""
        names = [str(self.known.readings[name]["label"]) for name in lacking]
        return {
            "state": state,
            "reading": self.step.readings[0],
            "label": str(self.known.readings[self.step.readings[0]]["label"]),
            "text": self._text(state, "", names),
            "held_to": self._held_text(),
            "act": "",
            "reason": "",
            "missing": names,
            "scale": None,
            "verdicts": [],
        }

    def refused(self, refusals: Sequence[Refusal]) -> dict[str, Any]:
        """A line for what can't be judged: an input that is missing, or a reading that can't be."""
        behind = {
            name: reading for name, reading in self.step.takes.items() if isinstance(reading, str)
        }
        if all(isinstance(each, Missing) for each in refusals):
            asked = labels(self.calculator, self.reference)
            lacking = [behind.get(str(each.field), str(each.field)) for each in refusals]
            line = self._open(NOT_JUDGED, [name for name in lacking if name in self.known.readings])
            others = [name for name in lacking if name not in self.known.readings]
            line["missing"] += [asked.get(name, name.replace("_", " ")) for name in others]
            return {**line, "text": self._text(NOT_JUDGED, "", line["missing"])}
        named = {name: str(each["label"]) for name, each in self.known.readings.items()}
        named |= {name: named[reading] for name, reading in behind.items()}
        words = {**labels(self.calculator, self.reference), **named}
        said = self.reference.sayings(self.calculator.id, "refusals")
        told = [str(each.as_json(words, said)["message"]) for each in refusals]
        return {**self._open(REFUSED, ()), "act": " ".join(told)}


def _side(scale: Mapping[str, Any] | None) -> str:
    """Which limit a reading is outside of: "low" or "high"; empty where no number decides."""
    if scale is None:
        return ""
    if scale["low"] is not None and (scale["high"] is None or scale["reading"] <= scale["low"]):
        return "low"
    return "high"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
