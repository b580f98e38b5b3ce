"""A step that reads against a limit says how it answers, and that can work."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from build_tools.sources.calculator_spec import CalculatorSpec
from build_tools.sources.naming import FIGURE, READING, Kind, measured, missing, names_of
from build_tools.sources.node import Node
from build_tools.sources.outcome_form import NAMED, faults, ways_of
from build_tools.sources.problems import Problem, listing, rename_fix, slip_of
from build_tools.sources.project import Project, stem_of

# What a step copies, and nobody measures.
STATED = ("plate.", "instructions.")
AS_LEFT = "_left"  # behind the name of a reading: the same, as it was left
EXPECTED = "A reading that is held to something says at once how it came out."


class Place(NamedTuple):
    """A step of a procedure."""

    project: Project
    step: Node

    @property
    def outcome(self) -> Node:
        """What it says of its reading."""
        return self.step["outcome"]

    @property
    def readings(self) -> list[str]:
        """Names of the readings of the step."""
        return [each.text for each in self.step["reading"].texts()]

    @property
    def calculator(self) -> str:
        """The calculator whose verdicts it shows."""
        return self.outcome["calculator"].text or self.step["calculator"].text

    def words_for(self, reading: str) -> list[str]:
        """What can be chosen for a reading."""
        known = names_of(self.project, READING)
        return [each.text for each in known[reading]["options"].items()] if reading in known else []


def check(project: Project) -> Iterator[Problem]:
    """Every step that takes a reading."""
    for step in project.each("procedure", "steps", ...):
        place = Place(project, step)
        if step.is_mapping and "outcome" not in step:
            yield from _undeclared(place)
        elif place.outcome.names:
            yield from _declared(place)


def _undeclared(place: Place) -> Iterator[Problem]:
    """A limit or verdicts beside a reading that nothing answers."""
    spec = place.project.calculators.get(place.step["calculator"].text)
    chosen = [name for name in place.readings if place.words_for(name)]
    taken = [name for name in place.readings if not name.startswith(STATED)]
    expected = [each.text for each in place.step["expect"].texts()]
    shown = [*expected, *(spec.verdicts if spec else ())]
    if not chosen and not (taken and shown):
        return
    why = f"it has options ('{chosen[0]}')" if chosen else f"it shows {listing(shown, 3)}"
    found = f"This step takes a reading and says nothing of it, although {why}."
    fix = "add 'outcome', or 'judged_in' in it with the step that answers"
    yield place.step["reading"].problem(found, EXPECTED, fix, key=True)


def _declared(place: Place) -> Iterator[Problem]:
    yield from faults(place.outcome, place.readings)
    if not place.readings:
        yield place.outcome.problem("This step takes no reading.", EXPECTED, "delete 'outcome'")
    for way in ways_of(place.outcome):
        yield from _names(place, way)
        yield from _kinds(place, way)
    yield from _words(place)
    yield from _elsewhere(place)
    if "verdicts" in place.outcome:
        yield from _of_calculator(place)


def _names(place: Place, way: Node) -> Iterator[Problem]:
    """Figures and readings of a way that are not there."""
    figures = names_of(place.project, FIGURE)
    known = {*figures, *names_of(place.project, READING)}
    for name in (way[key] for key in NAMED):
        if name.text and name.text not in known:
            kind = _kind_of(name.text, figures)
            yield from missing(place.project, kind, name.text, name.problem)


def _kind_of(name: str, figures: Iterable[str]) -> Kind:
    """Whether a name that is nowhere was meant for a figure or for a reading."""
    return READING if name.startswith(STATED) and not slip_of(name, figures) else FIGURE


def _kinds(place: Place, way: Node) -> Iterator[Problem]:
    """A limit that measures something else than the reading that is held to it."""
    if "verdicts" in place.outcome or not place.readings:
        return
    reading = place.outcome["of"].text or place.readings[0]
    wanted = measured(place.project, reading)
    for limit in (way[key] for key in ("plate", "around", "at_least", "at_most")):
        found = measured(place.project, limit.text)
        if None not in (wanted, found) and found != wanted:
            told = f"'{limit.text}' does not measure what '{reading}' does."
            expected, fix = "A reading is held to its own kind.", "name a limit of the same kind"
            yield limit.problem(told, expected, fix)


def _words(place: Place) -> Iterator[Problem]:
    """Every word that can be chosen has an outcome, and no other has."""
    if "options" not in place.outcome or not place.readings:
        return
    options, first = place.outcome["options"], place.readings[0]
    known = list(dict.fromkeys(word for name in place.readings for word in place.words_for(name)))
    expected = f"'{first}' can be: {listing(known)}."
    if place.readings[1:] not in ([], [f"{first}{AS_LEFT}"]):
        found = "Words of several readings are chosen in one step."
        told = "A step takes one, or the same as found and as left."
        fix = f"name the second '{first}{AS_LEFT}', or make two steps of it"
        yield options.problem(found, told, fix)
    for word in options.names:
        if word not in known:
            fix = rename_fix(word, known, f"delete '{word}'")
            yield options[word].problem(f"'{word}' can't be chosen.", expected, fix)
    for word in known:
        if word not in options:
            yield options.problem(f"'{word}' has no outcome.", expected, f"add '{word}'")


def _elsewhere(place: Place) -> Iterator[Problem]:
    """The step that answers for this one is there."""
    name, step = place.outcome["judged_in"], place.step
    steps = step.whole["steps"].items()
    answers = {each["id"].text for each in steps if "outcome" in each} - {step["id"].text}
    if name.text and name.text not in answers:
        known = listing(sorted(answers))
        expected = f"Steps of {stem_of(step.document.file)} that answer: {known}."
        fix = rename_fix(name.text, answers, "name the step that is typed last")
        yield name.problem(f"'{name.text}' is no step that answers.", expected, fix)


def _of_calculator(place: Place) -> Iterator[Problem]:
    """What a calculator must have: verdicts, notes, inputs and their options."""
    if not place.calculator:
        found, fix = (
            "This step shows no calculator, and names verdicts.",
            "add 'calculator', or say 'held_to'",
        )
        yield place.outcome["verdicts"].problem(found, "", fix)
    spec = place.project.calculators.get(place.calculator)
    if spec is not None:
        for node, what, name, known in (*_named(place, spec), *_chosen(place, spec)):
            if name not in known:
                found, fix = (
                    f"{place.calculator} has no {what} '{name}'.",
                    rename_fix(name, known, f"delete '{name}'"),
                )
                yield node.problem(found, f"There are: {listing(known)}.", fix)
    for choice in place.outcome["choices"].each(...):
        known = place.words_for(choice["reading"].text)
        for word in choice["options"].names if known else ():
            if word not in known:
                fix = rename_fix(word, known, f"delete '{word}'")
                expected = f"There are: {listing(known)}."
                yield choice["options"][word].problem(f"'{word}' can't be chosen.", expected, fix)


Checked = tuple[Node, str, str, Iterable[str]]


def _named(place: Place, spec: CalculatorSpec) -> Iterator[Checked]:
    """Verdicts, notes, answers and inputs that an outcome names."""
    outcome = place.outcome
    for key, what, known in (
        ("verdicts", "verdict", spec.verdicts),
        ("notes", "note", spec.notes),
        ("shows", "answer", spec.outputs),
        ("leaves_out", "input", spec.inputs),
    ):
        yield from ((outcome[key], what, name.text, known) for name in outcome[key].texts())
    shown = [name.text for name in outcome["verdicts"].texts()]
    for name in outcome["beside"].names:
        yield outcome["beside"][name], "verdict of this step", name, shown
        yield outcome["beside"][name], "reading", outcome["beside"][name].text, place.readings
    for key in ("gives", "set", "choices"):
        yield from ((outcome[key][name], "input", name, spec.inputs) for name in outcome[key].names)


def _chosen(place: Place, spec: CalculatorSpec) -> Iterator[Checked]:
    """Options that an outcome chooses."""
    choices = place.outcome["choices"]
    chosen = [(option, option.key) for option in place.outcome["set"].each(...)]
    chosen += [
        (each, name) for name in choices.names for each in choices[name]["options"].each(...)
    ]
    for option, name in chosen:
        if known := spec.inputs.get(name):
            yield option, "option", option.text, known
