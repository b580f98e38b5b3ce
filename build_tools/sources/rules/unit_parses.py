"""Every figure says what its values are, and every value is that."""

from collections.abc import Iterable, Iterator

from build_tools.sources.node import Node
from build_tools.sources.parse_value import (
    COUNT,
    EDITION,
    NUMBER,
    WORD,
    Holder,
    measure_of,
    misfit,
    quantity,
)
from build_tools.sources.problems import Problem, listing
from build_tools.sources.project import Project

EXPECTED = "A value is a number, a space and a unit, such as 21 mbar."
DECLARED = "A figure declares 'unit', such as mbar, or for values without a unit 'kind'."
KINDS = f"{NUMBER}, {COUNT}, {EDITION} or {WORD}"
SHARE = {"unit": "percent"}


def check(project: Project) -> Iterator[Problem]:
    """Read each value as the calculators will, and hold it against what its figure declares."""
    for figure in project.each(("limits", "gases"), ...):
        values = list(figure.each("values", ..., "value"))
        yield from unit_problems(figure, values)
        yield from misfits(values, figure.value)
        # Half of the range that a value stands for.
        yield from _unit_or_share(figure.each("values", ..., "half_width", "value"), figure.value)
    for instrument in project.each("instruments", ...):
        if "unit" in instrument:  # where it lacks one, the shape says so
            yield from unit_problems(instrument, ())
        yield from misfits(instrument.each("resolution", "value"), instrument.value)
        yield from _unit_or_share(instrument.each("accuracy", "value"), instrument.value)
    yield from _readings(project)


def unit_problems(holder: Node, values: Iterable[Node]) -> Iterator[Problem]:
    """Either a unit that is one or a kind, and not both. Given to columns of tables too."""
    unit, kind = holder["unit"], holder["kind"]
    if not holder.is_mapping:
        return
    if unit.value is None and kind.value is None:
        own = next((node.text for node in values), "").partition(" ")[2]
        fix = f"add 'unit: {own}', if that is meant" if own else f"add 'unit', or 'kind': {KINDS}"
        yield holder.problem("It does not say what its values are.", DECLARED, fix)
    elif unit.value is not None and kind.value is not None:
        yield kind.problem("It has both 'unit' and 'kind'.", DECLARED, "keep one of them")
    else:
        yield from _unknown_unit(unit)


def _unknown_unit(unit: Node) -> Iterator[Problem]:
    if isinstance(unit.value, str) and measure_of(unit.text) is None:
        yield unit.problem(f"'{unit.text}' is no unit.", "", "write a unit such as mbar")


def misfits(values: Iterable[Node], holder: Holder) -> Iterator[Problem]:
    """Each value that is not what its holder declares. Given to columns of tables too."""
    for node in values:
        if isinstance(node.value, str) and (wrong := misfit(node.text, holder)):
            expected = EXPECTED if quantity(node.text) is None else ""
            yield node.problem(wrong[0], expected, wrong[1])


def _unit_or_share(values: Iterable[Node], holder: Holder) -> Iterator[Problem]:
    """A width is in the unit of its holder, or a share of the value."""
    for node in values:
        yield from misfits([node], SHARE if node.text.endswith(" percent") else holder)


def _readings(project: Project) -> Iterator[Problem]:
    """The visit record names units, and the invented visit's readings are of that kind."""
    record = {reading.key: reading for reading in project.each("visit_record", ...)}
    for reading in record.values():
        unit = reading["unit"]
        yield from _unknown_unit(unit)
        if "options" in reading and unit.value:
            found = f"What is chosen has no unit, and this says {unit.value}."
            yield unit.problem(found, "", "write 'unit: \"\"', or delete 'options'")
    for visited in project.each("scenario", "readings", ...):
        value, reading = visited["value"], record.get(visited.key)
        options = reading["options"].value if reading else None
        if isinstance(options, list):
            if value.value not in options:
                found = f"'{value.value}' is none of what can be chosen: {listing(options)}."
                yield value.problem(found, "", "write one of those")
            continue
        unit = reading["unit"].value if reading else None
        holder = {"unit": unit} if unit else {"kind": NUMBER}
        yield from misfits([value], holder if isinstance(unit, str) else {})
