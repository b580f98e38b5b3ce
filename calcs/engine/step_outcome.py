"""What a step says of the readings typed in it: what holds, how they came out, what to do next.

A step names verdicts of a calculator, or says itself what its one reading is held to. Either way a
calculator judges it, with the uncertainty of the instrument; here its verdict becomes one line.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from calcs.engine.contradictions import contradiction
from calcs.engine.errors import Missing, NotHeld, Refusal, Refused
from calcs.engine.foretold import foretold
from calcs.engine.held_to import HeldTo, Known, held_to, missing
from calcs.engine.own_instruments import copy_of, told_of
from calcs.engine.reference import OwnInstrument, Reference
from calcs.engine.registry import calculators, labels
from calcs.engine.rounding import round_half_up
from calcs.engine.step_inputs import NoOption, Step, choices_of, decisive, needed, taken
from calcs.engine.step_judging import (
    JUDGE,
    STATES,
    Judged,
    gravest_side,
    is_put_right,
    judged,
)
from calcs.engine.turning import turn
from calcs.engine.units import join_unit, same_kind
from calcs.engine.verdict_words import full_stops

NOT_JUDGED = "not_judged"
OUTSIDE = "outside"
WAITING = "waiting"  # nothing of the step was typed, or not all that it takes
REFUSED = "refused"  # what was typed can't be so
OPEN = (Missing, NotHeld)  # refusals that leave a reading open: nothing that was typed is wrong


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
        `scale`, the numbers of a drawing, or None; `own`, the reader's instruments that took the
        readings, or None; `figures`, answers of its calculator that it shows, and the `verdicts`
        in full, for the record.
        `ahead` is there where a run can be foretold.
    """
    line = _Line(step, reference, known, overrides or {})
    told = _told(line)
    ahead = foretold(step, reference, known, line.overrides, line.held)
    return told if ahead is None else {**told, "ahead": ahead}


def _told(line: _Line) -> dict[str, Any]:
    try:
        return line.told()
    except Refusal as refusal:
        return line.refused([refusal])
    except Refused as refused:
        return line.refused(refused.refusals)
    except NoOption:
        return line.no_option()


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
        outcome = self.step.outcome
        if decisive(self.step, self.known):
            found = judged(self.step, self.reference, self.known, self.overrides, None)
            return self._closed(found)
        if stop := self._stopped():
            return {**self._open(NOT_JUDGED, ()), "act": stop}
        if told := contradiction(outcome.get("seen", ()), self.known):
            return {**self._open(REFUSED, ()), "act": told}
        ways = outcome.get("held_to", ())
        self.held = held_to(ways, self.known)
        lacking = [name for name in needed(self.step) if not self.known.has(name)]
        is_copied = "seen" in outcome and self.step.calculator is None and not ways
        is_begun = any(map(self.known.has, self.step.readings)) and not is_copied
        if lacking or (not is_begun and "options" in outcome):
            return self._open(WAITING, lacking if is_begun else ())
        found = judged(self.step, self.reference, self.known, self.overrides, self.held)
        if found.verdicts:
            return self._with_own(self._closed(found), found.own)
        if "options" in outcome or not (ways or NOT_JUDGED in outcome or self.step.calculator):
            return self._open(WAITING, ())
        return self._not_judged(self._ways_lack())

    def _stopped(self) -> str:
        """What to do instead of going on, where a word of the visit stops the work."""
        by: Mapping[str, Any] = self.step.outcome.get("stopped_by", {})
        typed = self.known.typed.get(by.get("reading", "")) or {}
        is_stopped = bool(by) and str(typed.get("value") or "").strip() == by["word"]
        return str(by["do"]) if is_stopped else ""

    def _ways_lack(self) -> list[str]:
        """What keeps the reading from being held to something; nothing where a way holds."""
        ways = self.step.outcome.get("held_to", ()) if self.held is None else ()
        return missing(ways, self.known)

    def _closed(self, found: Judged) -> dict[str, Any]:
        """A line with a verdict in it."""
        gravest = found.verdicts[0]
        state, scale = STATES[gravest["outcome"]], gravest["scale"]
        side = gravest_side(scale) if state == OUTSIDE else ""
        own = self.step.outcome
        shared = self.words["acts"].get(state, "")
        act = found.act or own.get(side) or own.get(state) or gravest["act"] or shared
        said = {note["name"]: note["text"] for note in found.notes}
        reasons = [said[name] for name in own.get("notes", ()) if name in said]
        lacking = self._ways_lack() if state == NOT_JUDGED else ()
        line = self._open(state, lacking, gravest["name"])
        is_ruled = scale is None and "options" not in own and state != "within"
        told = gravest["found"] if is_ruled else gravest["settles"] if state == "too_close" else ""
        is_own = gravest["name"] == own.get("verdicts", [gravest["name"]])[0]
        off = self._off(side, scale, is_own=is_own)
        named = self._quantity(gravest, line["reading"]) if side else ""
        reason = " ".join(reasons[:1]) or told
        if is_own and (turned := turn(own.get("turns"), side, self.known, self.words["turns"])):
            # The card goes before the general way to turn, and after nothing that warns.
            act, reason = f"{turned.act} {act}", turned.reason
        return {
            **line,
            "held_to": (line["held_to"] if is_own else None) or self._limit_of(gravest),
            "label": gravest["label"],
            "text": self._text(state, off, line["missing"], named),
            "act": act,
            "reason": reason,
            "scale": scale,
            "figures": [dict(answer) for answer in found.answers],
            "verdicts": [dict(verdict) for verdict in found.verdicts],
        }

    def _with_own(self, line: dict[str, Any], own: Sequence[OwnInstrument]) -> dict[str, Any]:
        """The line, and in the record each verdict, says by which of the reader's own it is so."""
        if not own:
            return line
        told = " ".join(told_of(each, self.reference, self.words) for each in own)
        return {
            **line,
            "own": {
                "text": told,
                "instruments": [copy_of(each, self.reference) for each in own],
                "is_past": any(each.is_past for each in own),
            },
            "verdicts": [{**each, "text": f"{each['text']} {told}"} for each in line["verdicts"]],
        }

    def _quantity(self, verdict: Mapping[str, Any], reading: str) -> str:
        """What a number of the line is of, where it would be taken for the reading, or for none."""
        own = self.reference.words(self.calculator.id).get("verdicts", {})
        if told := own.get(verdict["name"], {}).get("quantity"):
            return str(told)
        unit, usual = str(verdict["scale"]["unit"]), str(self.known.readings[reading]["unit"])
        return "" if unit and same_kind(unit, usual) else str(verdict["label"])

    def _text(self, state: str, off: str, lacking: Sequence[str], named: str = "") -> str:
        """Outcome, how far off it is, and what is missing."""
        word = self.words["states"].get(state, "")
        if named and off:
            word = self.words["named"].format(label=named, state=word[:1].lower() + word[1:])
        found = f"{word}, {off}." if off else f"{word}." if word else ""
        wanted = self.words["missing"].format(names=", ".join(lacking)) if lacking else ""
        return full_stops(" ".join(filter(None, (found, wanted))))

    def _off(self, side: str, scale: Mapping[str, Any] | None, *, is_own: bool) -> str:
        """How far a reading is from what it is set to, or else beyond its limit; or put right."""
        if is_put_right(self.step, self.known):
            return str(self.words["put_right"])
        if not side or scale is None:
            return ""
        bound = scale[side]
        if is_own and self.held is not None and self.held.plate is not None:
            bound = float(self.held.plate.to(scale["unit"]).magnitude)
        width = round_half_up(abs(scale["reading"] - bound), scale["places"])
        if not float(width):  # on a limit that it must be clear of
            return ""
        return str(self.words[side]).format(width=join_unit(width, scale["unit"]))

    def _held_text(self) -> dict[str, str] | None:
        if self.held is None:
            return None
        usual = str(self.known.readings[self.step.judged]["unit"])
        unit = str(self.step.outcome.get("unit", self.held.unit(usual)))
        limit = self.held.limit(unit)
        form = "limit"
        if self.held.plate is not None:
            form = "plate" if self.held.way["plate"].startswith("plate.") else "target"
        text = self.words["held_to"][form].format(plate=self.held.plate_text(unit), limit=limit)
        source = self.words["sources"][self.held.source]
        return {"text": full_stops(_capital(text)), "source": source}

    def _limit_of(self, verdict: Mapping[str, Any]) -> dict[str, str] | None:
        if not verdict["limit"]:
            return None
        return {
            "text": _capital(verdict["limit"]),
            "source": self.words["sources"].get(verdict["provenance"], ""),
        }

    def _open(self, state: str, lacking: Iterable[str], verdict: str = "") -> dict[str, Any]:
        """A line without a verdict: what is missing is named."""
        names = [self.known.label(name) for name in lacking]
        reading = self.step.stands_beside(self.known, verdict)
        return {
            "state": state,
            "reading": reading,
            "label": self.known.label(reading),
            "text": self._text(state, "", names),
            "held_to": self._held_text(),
            "act": "",
            "reason": "",
            "missing": names,
            "scale": None,
            "own": None,
            "figures": [],
            "verdicts": [],
        }

    def _not_judged(self, lacking: Iterable[str], act: str = "") -> dict[str, Any]:
        """A line for what is typed and has nothing to be held to."""
        line = self._open(NOT_JUDGED, lacking)
        shared = "" if line["missing"] else self.words["acts"][NOT_JUDGED]
        return {**line, "act": self.step.outcome.get(NOT_JUDGED) or act or shared}

    def no_option(self) -> dict[str, Any]:
        """A line for a visit whose answers the calculator has no option for."""
        return self._not_judged((), self.words["acts"]["no_option"])

    def refused(self, refusals: Sequence[Refusal]) -> dict[str, Any]:
        """A line for what can't be judged: an input that is missing, or a reading that can't be."""
        takes = taken(self.step, self.held)
        behind = {name: each for name, each in takes.items() if isinstance(each, str)}
        behind |= choices_of(self.step)
        asked = labels(self.calculator, self.reference)
        if all(isinstance(each, OPEN) for each in refusals):
            fields = [str(each.facts.get("figure") or each.field) for each in refusals]
            lacking = list(dict.fromkeys(behind.get(field, field) for field in fields))
            chosen = [name for name in lacking if not self._is_named(name)]
            act = self.words["acts"]["unanswered"] if chosen else ""
            ways = [] if chosen else self._ways_lack()
            read = [name for name in lacking if name not in chosen]
            line = self._not_judged(dict.fromkeys([*ways, *read]), act)
            line["missing"] += [asked.get(name, name.replace("_", " ")) for name in chosen]
            return {**line, "text": self._text(NOT_JUDGED, "", line["missing"])}
        named = {name: self.known.label(name) for name in self.known.readings}
        named |= {name: named[reading] for name, reading in behind.items()}
        said = self.reference.sayings(self.calculator.id, "refusals")
        told = [str(each.as_json({**asked, **named}, said)["message"]) for each in refusals]
        line = {**self._open(REFUSED, ()), "act": " ".join(told)}
        wrong = [behind[each.field] for each in refusals if each.field in behind]
        beside = next((name for name in wrong if name in self.step.readings), line["reading"])
        return {**line, "reading": beside, "label": self.known.label(beside)}

    def _is_named(self, name: str) -> bool:
        return name in self.known.readings or name in self.reference.names


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
