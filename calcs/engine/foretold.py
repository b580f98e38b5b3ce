"""What readings still to be taken should be, so that a person knows what to watch for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calcs.engine import answer as answering
from calcs.engine.errors import Refusal, Refused
from calcs.engine.held_to import HeldTo, Known
from calcs.engine.overrides import used_by
from calcs.engine.reference import Reference
from calcs.engine.registry import calculators
from calcs.engine.rounding import round_half_up
from calcs.engine.step_inputs import NoOption, Step, counting, inputs_of
from calcs.engine.units import Q, Quantity, join_unit, parse_unit

FEWEST_PLACES = 2  # a run is of whole hundredths


def foretold(
    step: Step,
    reference: Reference,
    known: Known,
    overrides: Mapping[str, Any],
    held: HeldTo | None,
) -> dict[str, str] | None:
    """A run that was not taken yet, as its calculator foretells it.

    Args:
        step: What is asked. `run_ahead` of its outcome names the readings: `elapsed`, and `first`
            and `second` of an index, or else `volume`.
        reference: Figures and words.
        known: What the visit knows.
        overrides: Figures of the reader's own copy of a source, by name.
        held: The plate that the readings are held to.

    Returns:
        `text`, what to watch for; `takes`, how long that takes; `passing`, what a person says as it
        passes; the `reading` that takes it, as `value` in its unit; and `elapsed`, the reading that
        takes the time. None where the run was taken, or too little is known.
    """
    names: Mapping[str, str] = step.outcome.get("run_ahead", {})
    calculator = calculators()[str(step.calculator)] if names else None
    if calculator is None or calculator.ahead is None or held is None or held.plate is None:
        return None
    if known.has(names["elapsed"]):
        return None
    ahead = calculator.ahead
    used = used_by(calculator)
    own = {name: text for name, text in overrides.items() if used.fullmatch(name)}
    try:
        first = _index(names.get("first"), known)
        inputs = counting(calculator.id, {**inputs_of(step, known, held), **ahead.asks})
        found, _ = answering.begin(calculator, reference, inputs, known.in_force.on, own)
        worked = next(each for each in found["answers"] if each["name"] == ahead.answer)
        run = ahead.tell(Quantity(worked["value"], worked["unit"]), first, known.in_force)
    except (Refusal, Refused, NoOption):
        return None  # what is missing or wrong is told where it is judged
    target = names["volume"] if "volume" in names else names["second"]
    if "second" in names and run.second_reading is None:
        return None
    end = run.volume if run.second_reading is None else run.second_reading
    value = _places(end, names.get("first"), known)
    words = reference.words("_shared")["outcomes"]["ahead"]
    reads = join_unit(value, str(known.readings[target]["unit"]))
    elapsed = join_unit(round_half_up(float(run.elapsed.magnitude), 0), "s")
    form = "index" if run.second_reading is not None else "volume"
    return {
        "text": words[form].format(reads=reads),
        "takes": words["takes"].format(elapsed=elapsed),
        "passing": words[f"{form}_passed"].format(reads=reads),
        "reading": target,
        "value": value,
        "elapsed": names["elapsed"],
    }


def _index(name: str | None, known: Known) -> Q | None:
    """The first reading of an index that counts in the unit of its reading; None for any other."""
    value = known.value(name) if name else None
    if value is None or value.units != parse_unit(str(known.readings[str(name)]["unit"])):
        return None
    return value


def _places(value: Q, first: str | None, known: Known) -> str:
    """With as many decimals as the first reading was typed with: so many does the meter show."""
    typed = str(known.typed[first]["value"]).replace(",", ".") if first else ""
    places = max(FEWEST_PLACES, len(typed.partition(".")[2].strip()))
    return round_half_up(float(value.to("m**3").magnitude), places)
