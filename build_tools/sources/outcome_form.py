"""Which forms an outcome of a step can have, and what in one can't work."""

from collections.abc import Iterator, Sequence

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem

# Ways to come to an outcome: one to a step.
FORMS = ("judged_in", "verdicts", "options", "seen")
MIDDLES, WIDTHS = ("plate", "around"), ("either_side", "below", "above")
BOUNDS = ("at_least", "at_most")
RELATIONS = ("below", "at_most", "at_least", "alike")  # of two figures that can't both be right
NAMED = (*MIDDLES, *WIDTHS, *BOUNDS, "unless_wider_than", "less")
OF_A_CALCULATOR = (
    *("with", "gives", "leaves_out", "set", "choices", "beside"),
    *("shows", "notes", "calculator", "run_ahead"),
)


def ways_of(outcome: Node) -> list[Node]:
    """Each way in which an outcome is found by limits."""
    return [way for way in outcome["held_to"].items() if way.is_mapping]


def faults(outcome: Node, readings: Sequence[str]) -> Iterator[Problem]:
    """Everything that can't work, whatever the names in it stand for."""
    yield from _forms(outcome)
    for way in ways_of(outcome):
        yield from _way(way)
    for pair in (each for each in outcome["seen"].items() if each.is_mapping):
        yield from _pair(pair)
    if "verdicts" not in outcome:
        for key in (each for each in OF_A_CALCULATOR if each in outcome):
            found, expected = (
                f"No verdicts stand beside '{key}'.",
                "Only verdicts of a calculator take it.",
            )
            yield outcome[key].problem(found, expected, f"delete '{key}'")
    elif "instrument" in outcome:
        found, expected = (
            "An instrument stands beside verdicts.",
            "The calculator has instruments of its own.",
        )
        yield outcome["instrument"].problem(found, expected, "delete 'instrument'")
    ahead = outcome["run_ahead"]
    if ahead.names and ("volume" in ahead) == ("first" in ahead and "second" in ahead):
        expected = "A run is of the gas that passes, or of an index from its first reading."
        fix = "name 'volume', or else 'first' and 'second'"
        yield ahead.problem("Nothing says what the meter is to show.", expected, fix)
    is_own = "held_to" in outcome and "verdicts" not in outcome
    if is_own and len(readings) > 1 and "of" not in outcome:
        found = "The step takes several readings, and nothing says which is held to this."
        expected, fix = "Limits of a step are for one reading.", "name the reading after 'of'"
        yield outcome["held_to"].problem(found, expected, fix)


def _forms(outcome: Node) -> Iterator[Problem]:
    # Beside a verdict it says what must fit before there is one.
    is_beside = "verdicts" in outcome or "held_to" in outcome
    found = [form for form in FORMS if form in outcome and not (form == "seen" and is_beside)]
    if "held_to" in outcome and "verdicts" not in outcome:
        found.append("held_to")
    if len(found) > 1:
        stand = f"'{found[0]}' and '{found[1]}' stand side by side."
        expected, fix = "A step comes to its outcome in one way.", f"keep one of {', '.join(found)}"
        yield outcome[found[1]].problem(stand, expected, fix)
    if not found and "not_judged" not in outcome:
        expected = "An outcome has one of judged_in, verdicts, held_to, options, seen, not_judged."
        yield outcome.problem(
            "Nothing says what the reading is held to.", expected, "add one of them"
        )


def _way(way: Node) -> Iterator[Problem]:
    middles, widths, bounds = (
        [key for key in keys if key in way] for keys in (MIDDLES, WIDTHS, BOUNDS)
    )
    expected = "A way has a middle with a width, or a bound."
    if middles and not widths:
        fix = "add 'either_side', 'below' or 'above'"
        yield way[middles[0]].problem(f"'{middles[0]}' has no width.", expected, fix)
    if widths and not middles:
        found = f"'{widths[0]}' is beside nothing."
        yield way[widths[0]].problem(found, expected, "add 'plate' or 'around'")
    if middles and bounds:
        found = f"'{middles[0]}' and '{bounds[0]}' stand in one way."
        yield way[bounds[0]].problem(found, expected, "make two ways of it")
    if len(middles) > 1:
        found = "'plate' and 'around' stand in one way."
        yield way["around"].problem(found, expected, "keep one of them")
    if not (middles or widths or bounds):
        yield way.problem("This way names no limit.", expected, "add a bound")
    for key, other in (("less", "at_most"), ("unless_wider_than", "plate")):
        if key in way and other not in way:
            found = f"'{key}' stands without '{other}'."
            yield way[key].problem(found, "", f"add '{other}', or delete '{key}'")


def _pair(pair: Node) -> Iterator[Problem]:
    found = [key for key in RELATIONS if key in pair]
    expected = f"A pair has one of {', '.join(RELATIONS)}."
    if not found:
        yield pair.problem("Nothing says how the two figures stand.", expected, "add one of them")
    elif len(found) > 1:
        stand = f"'{found[0]}' and '{found[1]}' stand in one pair."
        yield pair[found[1]].problem(stand, expected, "make two pairs of it")
    elif "times" in pair and "alike" not in pair:
        stand = f"'times' stands beside '{found[0]}'."
        yield pair["times"].problem(stand, "A ratio is of two that are alike.", "write 'alike'")
