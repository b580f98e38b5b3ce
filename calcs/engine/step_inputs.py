"""A step as the bundle has it, and what its calculator is asked, of what a visit knows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from calcs.engine.declarations import Choice, Instrument
from calcs.engine.errors import Refusal
from calcs.engine.held_to import HeldTo, Known, listed
from calcs.engine.own_instruments import stands_for
from calcs.engine.read_inputs import decisive as decisive_of
from calcs.engine.registry import calculators
from calcs.engine.units import parse_unit, read_quantity

# Of a meter, in every calculator that takes them: what its index showed, or the gas that passed.
COUNTED = ("first_reading", "second_reading", "volume")
VOLUME = "volume"  # what a meter measures, and the input for it


@dataclass(frozen=True)
class Step:
    """A step as the bundle has it.

    Args:
        readings: Names of what is typed in it.
        calculator: Whose verdicts it shows; None where it says itself what its reading is held to.
        takes: Reading behind each input of the calculator, in the form of a worked example: a name,
            or rows of names.
        outcome: What its author declared: `verdicts`, `beside`, `needs`, `set`, `held_to`,
            `instrument`, and words for each state.
        answers: Option of each choice of the calculator, by what was answered of the visit.
    """

    readings: Sequence[str]
    calculator: str | None
    takes: Mapping[str, Any]
    outcome: Mapping[str, Any]
    answers: Mapping[str, Sequence[Mapping[str, Any]]] = field(default_factory=dict)

    @property
    def judged(self) -> str:
        """The reading that is held to limits of the step's own."""
        return str(self.outcome.get("of", self.readings[0]))

    def stands_beside(self, known: Known, verdict: str = "") -> str:
        """The reading whose line this is: of a word as found and as left, the one that was left.

        Args:
            known: What the visit knows.
            verdict: Name of the one that the line tells, where it has one.
        """
        if "options" not in self.outcome:
            return str(self.outcome.get("beside", {}).get(verdict, self.readings[0]))
        chosen = (name for name in reversed(self.readings) if known.has(name))
        return next(chosen, self.readings[0])


class NoOption(Exception):
    """What was answered of the visit is none of what a calculator judges."""


def decisive(step: Step, known: Known) -> dict[str, Any]:
    """The word of the visit that settles the verdict of a step alone; empty where there is none."""
    if step.calculator is None:
        return {}
    worded = chosen_by_words(step.outcome.get("choices", {}), known)
    return decisive_of(calculators()[step.calculator], worded)


def taken(step: Step, held: HeldTo | None) -> dict[str, Any]:
    """The reading behind each input, that of the way which holds among them."""
    return {**step.takes, **(held.way.get("gives", {}) if held is not None else {})}


def inputs_of(step: Step, known: Known, held: HeldTo | None) -> dict[str, Any]:
    """What the calculator of a step is asked.

    Raises:
        NoOption: An answer of the visit stands for none of its options.
    """
    if alone := decisive(step, known):
        return {name: {"value": option} for name, option in alone.items()}
    own = {**step.outcome.get("set", {}), **(held.way.get("set", {}) if held is not None else {})}
    worded = chosen_by_words(step.outcome.get("choices", {}), known)
    chosen = {**_answered(step, known, own), **worded, **own}
    name, typed = str(step.calculator), _typed(taken(step, held), known)
    chosen = {**instruments_for(name, known), **index_for(name, typed, known), **chosen}
    options = {name: {"value": option} for name, option in chosen.items()}
    return counting(name, {**typed, **options})


def instruments_for(calculator: str, known: Known) -> dict[str, str]:
    """The reader's own instruments in place of those that a calculator takes by itself."""
    own, reference = known.in_force.instruments, known.in_force.reference
    declared = calculators()[calculator].inputs
    found = {
        item.name: stands_for(item.default, own, reference)
        for item in declared
        if isinstance(item, Instrument)
    }
    return {name: each.kind for name, each in found.items() if each is not None}


def index_for(calculator: str, typed: Mapping[str, Any], known: Known) -> dict[str, str]:
    """The meter whose index counts in the unit of the readings, where the usual one does not.

    A step has no field for the kind of meter: its readings in cubic feet say it. A test dial shows
    a hundred times more: it counts where the reader has it among their instruments.
    """
    cells = [typed[name] for name in COUNTED if name in typed]
    declared = calculators()[calculator].inputs
    meter = next((i for i in declared if isinstance(i, Instrument) and i.measures == VOLUME), None)
    if meter is None or not cells:
        return {}
    try:
        read = {read_quantity("", one["value"], one["unit"], (meter.unit,)).units for one in cells}
    except Refusal:
        return {}  # told where the readings are judged
    instruments, own = known.in_force.reference.instruments, known.in_force.instruments
    if len(read) > 1 or parse_unit(instruments[meter.default]["unit"]) in read:
        return {}
    kinds = [
        str(kind)
        for kind, each in instruments.items()
        if each["measures"] == VOLUME and parse_unit(each["unit"]) in read
    ]
    # Readings are of an index. A volume is of what the reader told that they read.
    told = [kind for kind in kinds if kind in own and VOLUME in typed]
    kind = next(iter((*told, *kinds)), None)
    return {} if kind is None else {meter.name: kind}


def counting(calculator: str, inputs: Mapping[str, Any]) -> dict[str, Any]:
    """The inputs that count with these choices: a visit holds what others take too."""
    declared = {item.name: item for item in calculators()[calculator].inputs}
    choices = {
        name: inputs.get(name, {}).get("value") or item.default
        for name, item in declared.items()
        if isinstance(item, Choice)
    }
    whens = {name: getattr(item, "when", None) for name, item in declared.items()}
    return {
        name: entered
        for name, entered in inputs.items()
        if not (when := whens.get(name)) or choices.get(when.input) in when.options
    }


def cell_of(name: str, known: Known) -> dict[str, str]:
    """A reading as a form sends it."""
    cell = known.typed[name]
    unit = str(cell.get("unit") or known.readings[name]["unit"])
    return {"value": str(cell["value"]), "unit": unit}


def _typed(takes: Mapping[str, Any], known: Known) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, behind in takes.items():
        if not isinstance(behind, str):
            rows = [_typed(row, known) for row in behind]
            found[name] = {"rows": [row for row in rows if row]}
        elif known.has(behind):
            found[name] = cell_of(behind, known)
    return found


def chosen_by_words(choices: Mapping[str, Any], known: Known) -> dict[str, str]:
    """Options that words of the visit choose; a word that is none of them chooses none.

    Args:
        choices: By the input, the `reading` and the option for each of its words in `options`.
        known: What the visit knows.
    """
    found = {}
    for name, choice in choices.items():
        word = str((known.typed.get(choice["reading"]) or {}).get("value") or "")
        if word in choice["options"]:
            found[name] = str(choice["options"][word])
    return found


def _answered(step: Step, known: Known, own: Mapping[str, str]) -> dict[str, str]:
    """Choices that the answers make. What was not answered is left to the calculator."""
    found = {}
    for name, rules in step.answers.items():
        fitting = next(filter(known.fits, rules), None)
        if name in own:
            continue
        if fitting is not None:
            found[name] = str(fitting["option"])
        elif not any(map(known.may_fit, rules)):
            raise NoOption(name)
    return found


def choices_of(step: Step) -> dict[str, str]:
    """The reading whose word makes a choice, by the choice."""
    return {
        name: str(choice["reading"]) for name, choice in step.outcome.get("choices", {}).items()
    }


def needed(step: Step) -> list[str]:
    """Readings without which nothing of a step is judged."""
    return listed(step.outcome.get("needs", step.readings))
