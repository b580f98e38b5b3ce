"""A step that reads against a limit says how it answers, and that can work."""

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import Any, NamedTuple

from build_tools.sources.calculator_spec import CalculatorSpec
from build_tools.sources.naming import (
    FIGURE,
    READING,
    Kind,
    measured,
    missing,
    names_of,
)
from build_tools.sources.outcome_form import NAMED, as_list, as_map, faults, ways_of
from build_tools.sources.problems import Problem, listing, rename_fix, slip_of
from build_tools.sources.project import Project, stem_of
from build_tools.sources.read_yaml import Document

# What a step copies, and nobody measures.
STATED = ("plate.", "instructions.")
AS_LEFT = "_left"  # behind the name of a reading: the same, as it was left
EXPECTED = "A reading that is held to something says at once how it came out."


class Place(NamedTuple):
    """A step, its outcome, and where they stand."""

    project: Project
    document: Document
    number: int
    step: dict[str, Any]
    outcome: dict[str, Any]

    @property
    def readings(self) -> list[str]:
        """Names of the readings of the step."""
        return [name for name in as_list(self.step.get("reading")) if isinstance(name, str)]

    @property
    def calculator(self) -> Any:
        """The calculator whose verdicts it shows."""
        return self.outcome.get("calculator", self.step.get("calculator"))

    def at(self, *key_path: Any) -> Callable[..., Problem]:
        """What makes a problem at a place in the outcome."""
        return partial(self.document.problem, ("steps", self.number, "outcome", *key_path))


def check(project: Project) -> Iterator[Problem]:
    """Every step that takes a reading."""
    for document in project.of_kind("procedure"):
        for number, step in enumerate(as_list(document.value.get("steps"))):
            if not isinstance(step, dict):
                continue
            place = Place(project, document, number, step, as_map(step.get("outcome")))
            if "outcome" not in step:
                yield from _undeclared(place)
            elif place.outcome:
                yield from _declared(place)


def _undeclared(place: Place) -> Iterator[Problem]:
    """A limit or verdicts beside a reading that nothing answers."""
    record = place.project.one("visit_record")
    spec = place.project.calculators.get(str(place.step.get("calculator")))
    chosen = [name for name in place.readings if "options" in as_map(record.get(name))]
    taken = [name for name in place.readings if not name.startswith(STATED)]
    shown = [*as_list(place.step.get("expect")), *(spec.verdicts if spec else ())]
    if not chosen and not (taken and shown):
        return
    why = f"it has options ('{chosen[0]}')" if chosen else f"it shows {listing(shown, 3)}"
    found = f"This step takes a reading and says nothing of it, although {why}."
    key_path = ("steps", place.number, "reading")
    fix = "add 'outcome', or 'judged_in' in it with the step that answers"
    yield place.document.problem(key_path, found, EXPECTED, fix, key=True)


def _declared(place: Place) -> Iterator[Problem]:
    for fault in faults(place.outcome, place.readings):
        yield place.at(*fault.place)(fault.found, fault.expected, fault.fix)
    if not place.readings:
        yield place.at()("This step takes no reading.", EXPECTED, "delete 'outcome'")
    yield from _names(place)
    yield from _words(place)
    yield from _elsewhere(place)
    if "verdicts" in place.outcome:
        yield from _of_calculator(place)


def _names(place: Place) -> Iterator[Problem]:
    """Figures and readings of a way that are not there, or measure something else."""
    figures = names_of(place.project, FIGURE)
    known = {*figures, *names_of(place.project, READING)}
    for number, way in ways_of(place.outcome):
        for key in (each for each in NAMED if isinstance(way.get(each), str)):
            if way[key] not in known:
                at, kind = place.at("held_to", number, key), _kind_of(way[key], figures)
                yield from missing(place.project, kind, way[key], at)
        yield from _kinds(place, number, way)


def _kind_of(name: str, figures: Iterable[str]) -> Kind:
    """Whether a name that is nowhere was meant for a figure or for a reading."""
    return READING if name.startswith(STATED) and not slip_of(name, figures) else FIGURE


def _kinds(place: Place, number: int, way: dict[str, Any]) -> Iterator[Problem]:
    """A limit that measures something else than the reading that is held to it."""
    if "verdicts" in place.outcome or not place.readings:
        return
    reading = str(place.outcome.get("of", place.readings[0]))
    wanted = measured(place.project, reading)
    for key in ("plate", "around", "at_least", "at_most"):
        found = measured(place.project, str(way.get(key)))
        if None not in (wanted, found) and found != wanted:
            told = f"'{way[key]}' does not measure what '{reading}' does."
            fix = "name a limit of the same kind"
            yield place.at("held_to", number, key)(told, "A reading is held to its own kind.", fix)


def _words(place: Place) -> Iterator[Problem]:
    """Every word that can be chosen has an outcome, and no other has."""
    outcome = place.outcome
    if "options" not in outcome or not place.readings:
        return
    record = place.project.one("visit_record")
    of_each = [as_list(as_map(record.get(name)).get("options")) for name in place.readings]
    known = list(dict.fromkeys(word for words in of_each for word in words))
    given = as_map(outcome.get("options"))
    expected = f"'{place.readings[0]}' can be: {listing(known)}."
    if place.readings[1:] not in ([], [f"{place.readings[0]}{AS_LEFT}"]):
        found = "Words of several readings are chosen in one step."
        told = "A step takes one, or the same as found and as left."
        fix = f"name the second '{place.readings[0]}{AS_LEFT}', or make two steps of it"
        yield place.at("options")(found, told, fix)
    for word in given:
        if word not in known:
            fix = rename_fix(word, known, f"delete '{word}'")
            yield place.at("options", word)(f"'{word}' can't be chosen.", expected, fix)
    for word in known:
        if word not in given:
            yield place.at("options")(f"'{word}' has no outcome.", expected, f"add '{word}'")


def _elsewhere(place: Place) -> Iterator[Problem]:
    """The step that answers for this one is there, and takes its readings."""
    name = place.outcome.get("judged_in")
    if not isinstance(name, str):
        return
    steps = {
        str(step.get("id")): step
        for step in as_list(place.document.value.get("steps"))
        if isinstance(step, dict)
    }
    answers = {each for each, step in steps.items() if "outcome" in step} - {place.step.get("id")}
    expected = f"Steps of {stem_of(place.document.file)} that answer: {listing(sorted(answers))}."
    if name not in answers:
        fix = rename_fix(name, answers, "name the step that is typed last")
        yield place.at("judged_in")(f"'{name}' is no step that answers.", expected, fix)


def _of_calculator(place: Place) -> Iterator[Problem]:
    """What a calculator must have: verdicts, notes, inputs and their options."""
    if place.calculator is None:
        found = "This step shows no calculator, and names verdicts."
        yield place.at("verdicts")(found, "", "add 'calculator', or say 'held_to'")
    spec = place.project.calculators.get(str(place.calculator))
    if spec is not None:
        for key_path, what, name, known in (*_named(place, spec), *_chosen(place, spec)):
            if name not in known:
                found = f"{place.calculator} has no {what} '{name}'."
                fix = rename_fix(name, known, f"delete '{name}'")
                yield place.at(*key_path)(found, f"There are: {listing(known)}.", fix)
    for name, choice in as_map(place.outcome.get("choices")).items():
        yield from _choice(place, name, as_map(choice))


Checked = tuple[tuple[Any, ...], str, str, Iterable[str]]


def _named(place: Place, spec: CalculatorSpec) -> Iterator[Checked]:
    """Verdicts, notes, answers and inputs that an outcome names."""
    outcome = place.outcome
    told = ("verdicts", "verdict", spec.verdicts), ("notes", "note", spec.notes)
    for key, what, known in (*told, ("shows", "answer", spec.outputs)):
        for name in as_list(outcome.get(key)):
            yield (key,), what, str(name), known
    for key in ("gives", "set", "choices"):
        for name in as_map(outcome.get(key)):
            yield (key, name), "input", name, spec.inputs
    for name in as_list(outcome.get("leaves_out")):
        yield ("leaves_out",), "input", str(name), spec.inputs


def _chosen(place: Place, spec: CalculatorSpec) -> Iterator[Checked]:
    """Options that an outcome chooses."""
    for name, option in as_map(place.outcome.get("set")).items():
        if known := spec.inputs.get(name):
            yield ("set", name), "option", str(option), known
    for name, choice in as_map(place.outcome.get("choices")).items():
        for word, option in as_map(as_map(choice).get("options")).items():
            if known := spec.inputs.get(name):
                yield ("choices", name, "options", word), "option", str(option), known


def _choice(place: Place, name: str, choice: dict[str, Any]) -> Iterator[Problem]:
    """The words of a reading that makes a choice."""
    entry = as_map(place.project.one("visit_record").get(str(choice.get("reading"))))
    known = as_list(entry.get("options"))
    for word in as_map(choice.get("options")):
        if known and word not in known:
            found, expected = f"'{word}' can't be chosen.", f"There are: {listing(known)}."
            fix = rename_fix(word, known, f"delete '{word}'")
            yield place.at("choices", name, "options", word)(found, expected, fix)
