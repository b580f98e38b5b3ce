"""Which forms an outcome of a step can have, and what in one can't work."""

from collections.abc import Iterator
from typing import Any, NamedTuple

# Ways to come to an outcome: one to a step.
FORMS = ("judged_in", "verdicts", "options", "seen")
MIDDLES, WIDTHS = ("plate", "around"), ("either_side", "below", "above")
BOUNDS = ("at_least", "at_most")
NAMED = (*MIDDLES, *WIDTHS, *BOUNDS, "unless_wider_than", "less")
OF_A_CALCULATOR = (
    *("with", "gives", "leaves_out", "set", "choices"),
    *("shows", "notes", "calculator", "run_ahead"),
)


class Fault(NamedTuple):
    """What can't work in an outcome: where in it, what was found, what is expected, what to do."""

    place: tuple[str | int, ...]
    found: str
    expected: str
    fix: str


def as_map(value: Any) -> dict[str, Any]:
    """A mapping, or an empty one in place of whatever a half-written file has there."""
    return value if isinstance(value, dict) else {}


def as_list(value: Any) -> list[Any]:
    """One or several as a list."""
    if isinstance(value, str):
        return [value]
    return value if isinstance(value, list) else []


def ways_of(outcome: dict[str, Any]) -> Iterator[tuple[int, dict[str, Any]]]:
    """Each way with its place."""
    for number, way in enumerate(as_list(outcome.get("held_to"))):
        if isinstance(way, dict):
            yield number, way


def faults(outcome: dict[str, Any], readings: list[Any]) -> Iterator[Fault]:
    """Everything that can't work, whatever the names in it stand for."""
    yield from _forms(outcome)
    for number, way in ways_of(outcome):
        yield from _way(way, ("held_to", number))
    if "verdicts" not in outcome:
        for key in OF_A_CALCULATOR:
            if key in outcome:
                expected = "Only verdicts of a calculator take it."
                yield Fault(
                    (key,), f"No verdicts stand beside '{key}'.", expected, f"delete '{key}'"
                )
    elif "instrument" in outcome:
        expected = "The calculator has instruments of its own."
        found = "An instrument stands beside verdicts."
        yield Fault(("instrument",), found, expected, "delete 'instrument'")
    ahead = as_map(outcome.get("run_ahead"))
    if ahead and ("volume" in ahead) == ("first" in ahead and "second" in ahead):
        expected = "A run is of the gas that passes, or of an index from its first reading."
        fix = "name 'volume', or else 'first' and 'second'"
        yield Fault(("run_ahead",), "Nothing says what the meter is to show.", expected, fix)
    is_own = "held_to" in outcome and "verdicts" not in outcome
    if is_own and len(readings) > 1 and "of" not in outcome:
        found = "The step takes several readings, and nothing says which is held to this."
        fix = "name the reading after 'of'"
        yield Fault(("held_to",), found, "Limits of a step are for one reading.", fix)


def _forms(outcome: dict[str, Any]) -> Iterator[Fault]:
    found = [form for form in FORMS if form in outcome]
    if "held_to" in outcome and "verdicts" not in outcome:
        found.append("held_to")
    if len(found) > 1:
        fix = f"keep one of {', '.join(found)}"
        stand = f"'{found[0]}' and '{found[1]}' stand side by side."
        yield Fault((found[1],), stand, "A step comes to its outcome in one way.", fix)
    if not found and "not_judged" not in outcome:
        stand = "Nothing says what the reading is held to."
        expected = "An outcome has one of judged_in, verdicts, held_to, options, seen, not_judged."
        yield Fault((), stand, expected, "add one of them")


def _way(way: dict[str, Any], place: tuple[str | int, ...]) -> Iterator[Fault]:
    middles = [key for key in MIDDLES if key in way]
    widths = [key for key in WIDTHS if key in way]
    bounds = [key for key in BOUNDS if key in way]
    expected = "A way has a middle with a width, or a bound."
    if middles and not widths:
        found = f"'{middles[0]}' has no width."
        yield Fault((*place, middles[0]), found, expected, "add 'either_side', 'below' or 'above'")
    if widths and not middles:
        found = f"'{widths[0]}' is beside nothing."
        yield Fault((*place, widths[0]), found, expected, "add 'plate' or 'around'")
    if middles and bounds:
        found = f"'{middles[0]}' and '{bounds[0]}' stand in one way."
        yield Fault((*place, bounds[0]), found, expected, "make two ways of it")
    if len(middles) > 1:
        found = "'plate' and 'around' stand in one way."
        yield Fault((*place, "around"), found, expected, "keep one of them")
    if not (middles or widths or bounds):
        yield Fault(place, "This way names no limit.", expected, "add a bound")
    for key, other in (("less", "at_most"), ("unless_wider_than", "plate")):
        if key in way and other not in way:
            found = f"'{key}' stands without '{other}'."
            yield Fault((*place, key), found, "", f"add '{other}', or delete '{key}'")
