"""What a visit gives of the form of `cross_check`, by `data/cross_check/visit.yaml`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calcs.domain.cross_check.readings import CELLS, PLATE, PRESSURES, RUNS, TEMPERATURES
from calcs.engine.held_to import Known
from calcs.engine.request_errors import NotANumber
from calcs.engine.step_inputs import cell_of, chosen_by_words
from calcs.engine.typed_number import PLAIN_NUMBER, read_number, without_commas

BURNER, GAS = "burner", "gas"
Way = tuple[str, ...]  # the readings that stand behind one input
# Inputs of each quantity that is read, and of the errors that several readings share.
INPUTS_OF: Mapping[str, Sequence[str]] = {
    **RUNS,
    **{quantity: (field,) for quantity, field in {**PRESSURES, **PLATE}.items()},
    **{name: (name,) for name in (*TEMPERATURES, *CELLS)},
    "water_flow": ("collected", "water_elapsed"),
    "dioxide_worked_out": ("carbon_dioxide",),
    "calorific_value": ("calorific_value_gross",),
    "run": ("tube", "tube_length", "elbows"),
    "meter": [volume for volume, _ in RUNS.values()],
    "gauge_zero": [*PRESSURES.values()],
}


class NotCovered(Exception):
    """A visit that is not of what `cross_check` covers; its text is the id of the words."""


@dataclass(frozen=True)
class Taken:
    """What was taken of a visit.

    Args:
        inputs: What the form is given.
        behind: By the name of an input, the readings that stand behind it.
    """

    inputs: Mapping[str, Any]
    behind: Mapping[str, Way]


def taken_of(known: Known, appliances: int, data: Mapping[str, Any]) -> Taken:
    """The form as a visit fills it.

    Args:
        known: The readings of one appliance, with what all share, and the answers.
        appliances: How many the visit has.
        data: What `data/cross_check/` says.

    Raises:
        NotCovered: The burner or the gas is not known, or none that it covers, or it has several.
    """
    rules, answers = data["visit"], data["answers"]
    for question, options in rules["not_for"].items():
        if known.answers.get(question) in options:
            raise NotCovered(f"other_{question}")
    options = {
        GAS: _answered(GAS, answers[GAS], known),
        BURNER: _answered(BURNER, answers[BURNER], known) or _told(rules["told_by"], known),
    }
    for name, option in options.items():
        if option is None:
            raise NotCovered(f"no_{name}")
    behind = dict(_behind(known, rules))
    if appliances > 1:
        for name in rules["alone"]:
            behind.pop(name, None)
    cells = {name: _cell(way, known) for name, way in behind.items()}
    inputs = {name: cell for name, cell in cells.items() if cell is not None}
    options |= chosen_by_words(rules["choices"], known)
    chosen = {name: {"value": option} for name, option in options.items()}
    return Taken({**inputs, **chosen}, {name: behind[name] for name in inputs})


def _answered(name: str, rules: Sequence[Mapping[str, Any]], known: Known) -> str | None:
    """The option that an answer of the visit chooses.

    Raises:
        NotCovered: There is an answer, and no option for it.
    """
    fitting = next(filter(known.fits, rules), None)
    if fitting is None and not any(map(known.may_fit, rules)):
        raise NotCovered(f"other_{name}")
    return None if fitting is None else str(fitting["option"])


def _told(told_by: Mapping[str, Sequence[str]], known: Known) -> str | None:
    """The burner of which there are readings; None where there are none, or of both."""
    found = [burner for burner, names in told_by.items() if any(map(known.has, names))]
    return found[0] if len(found) == 1 else None


def _behind(known: Known, rules: Mapping[str, Any]) -> Iterator[tuple[str, Way]]:
    """Inputs and what stands behind each, in the state of which the first run is."""
    was_set = any(map(known.has, rules["set_by"]))
    runs = list(_runs(known, rules))
    found = [rules["found_run"]] if _is_whole(rules["found_run"], known) else []
    groups = [rules["inputs"], rules["found"]]
    if runs or not found or not was_set:
        groups = [rules["inputs"], rules["left"], *([] if was_set else [rules["found"]])]
    if runs and found and known.has(pressure := rules["found"]["burner_max"][0]):
        yield from zip(("other_volume", "other_elapsed"), _run(found[0]), strict=True)
        yield "other_pressure", (pressure,)
    for fields, run in zip((RUNS["gas_rate"], RUNS["gas_rate_again"]), runs or found, strict=False):
        yield from zip(fields, _run(run), strict=True)
    for name in dict.fromkeys(name for group in groups for name in group):
        names = [each for group in groups for each in group.get(name, ())]
        if (first := next(filter(known.has, names), None)) is not None:
            yield name, (first,)


def _runs(known: Known, rules: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """Whole runs at maximum, in the order in which they count."""
    runs = [run for run in rules["runs"] if _is_whole(run, known)]
    runs = [run for number, run in enumerate(runs) if not number or "first" not in run]
    runs = [run for number, run in enumerate(runs) if run["elapsed"] not in _times(runs[:number])]
    # The first of those that were not taken to be laid beside it, what was, then all others.
    yield from runs[:1]
    yield from sorted(runs[1:], key=lambda run: "second" not in run)


def _is_whole(run: Mapping[str, Any], known: Known) -> bool:
    return all(map(known.has, (*run["volume"], run["elapsed"])))


def _times(runs: Sequence[Mapping[str, Any]]) -> set[str]:
    """A run whose volume was read in two ways is one run."""
    return {str(run["elapsed"]) for run in runs}


def _run(run: Mapping[str, Any]) -> tuple[Way, Way]:
    return tuple(run["volume"]), (run["elapsed"],)


def _cell(way: Way, known: Known) -> dict[str, str] | None:
    """A reading as it was typed; of two of a meter what went through between them."""
    cells = [cell_of(name, known) for name in way]
    if len(cells) == 1:
        return cells[0]
    if cells[0]["unit"] != cells[1]["unit"]:
        return None
    texts = [without_commas(cell["value"].strip()) for cell in cells]
    try:
        first, second = (read_number(way[0], text) for text in texts)
    except NotANumber:
        return (
            cells[0] if PLAIN_NUMBER.fullmatch(texts[1]) else cells[1]
        )  # refused by its own words
    places = max(len(text.partition(".")[2]) for text in texts)
    return {"value": f"{second - first:.{places}f}", "unit": cells[0]["unit"]}
