"""What may be typed for each reading: its unit, others of its kind, and the range of the form.

A reading that a calculator takes has the range of that calculator's input, so that a step accepts
what the calculator accepts. Any other declares its own in data/visit_record.yaml.
"""

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from build_tools.sources.project import Project, stem_of
from build_tools.sources.worked_example import LITERAL
from calcs.engine.declarations import COUNTED
from calcs.engine.errors import Refusal
from calcs.engine.parse_value import has_no_thousandths
from calcs.engine.units import Quantity, parse_unit, read_quantity, same_kind, unit_text

# What people type behind a number. calcs says which of them it takes, and what each means.
SPELLINGS = (
    *("mbar", "mb", "millibar", "bar", "Pa", "hPa", "kPa", "psi", "inH2O", "inWG", "in w.g."),
    *("mmH2O", "mmWG", "mm w.g.", "°C", "C", "degC", "°F", "F", "degF", "K"),
    *("s", "sec", "second", "seconds", "min", "minutes", "h", "hr", "hours"),
    *("m", "metre", "metres", "cm", "mm", "in", "inch", "inches", "ft", "feet"),
    *("m³", "m3", "m^3", "m**3", "ft³", "ft3", "cu ft", "l", "L", "litre", "litres", "ml", "dm³"),
    *("W", "kW", "Btu/h", "MJ/h", "m³/h", "m3/h", "m**3/h", "ft³/h", "ft3/h", "cfh"),
    *("l/h", "l/min", "L/min", "lpm", "l/s", "gpm", "gal/min", "%", "percent", "ppm"),
    *("ohm", "ohms", "Ω", "kohm", "kΩ", "mm²", "mm2", "cm²", "cm2", "m²", "m2", "in²", "in2"),
    *("in wg", "in w.g", "in. w.g.", "in. wg", "inwg", "inch wg", "inches wg", '"wg', '" w.g.'),
    *("mbars", "mm wg", "mins", "secs", "cubic feet", "cu. ft", "cuft", "cubic metres", "deg C"),
    *("cu ft/h", "ft3/hr", "m3/hr", "Btu/hr", "litres/min", "sq cm", "sq mm", "sq in", "cm^2"),
    *("V", "mV", "A", "mA", "µA", "uA", "MJ/m³", "MJ/m3", "kWh/m³", "kWh/m3", "Btu/ft³", "Btu/ft3"),
)

Range = tuple[float, float]
Meaning = tuple[float, ...]  # of a unit in another: a factor, what is added after it; see units_of
Inputs = Callable[
    [str], Mapping[str, Any]
]  # a calculator to its inputs; a column as `table.column`


def takers(project: Project) -> Iterator[tuple[str, str, str]]:
    """Each reading that a calculator takes: its name, the calculator and the input."""
    for example in project.each("calculator", "example"):
        borrowed = example["any_reading"].value or ()  # by a converter, say
        for given in example["given"].parts():
            for node in given.texts() if given.key not in borrowed else ():
                if not node.text.startswith(LITERAL):
                    column = f".{node.key}" if node.key_path != given.key_path else ""
                    yield node.text, stem_of(example.document.file), f"{given.key}{column}"
    for step in project.each("procedure", "steps", ...):
        for reading in step["gives"].parts():
            yield str(reading.value), str(step["calculator"].value), reading.key


def ranges(project: Project, inputs: Inputs) -> dict[str, Range]:
    """The range of each reading, in its own unit. Of several calculators the widest counts.

    Each calculator still refuses what it can't take itself.
    """
    known = project.one("visit_record")
    found: dict[str, list[Range]] = {}
    for reading, calculator, name in takers(project):
        item = inputs(calculator).get(name)
        if reading in known and hasattr(item, "read_with") and not item.any_kind:
            unit = parse_unit(known[reading]["unit"])
            if same_kind(unit, item.unit):
                ends = (
                    Quantity(float(end), parse_unit(item.unit)) for end in (item.low, item.high)
                )
                low, high = (float(end.to(unit).magnitude) for end in ends)
                found.setdefault(reading, []).append((low, high))
    declared = {
        name: [(float(entry["low"]), float(entry["high"]))]
        for name, entry in known.items()
        if "low" in entry
    }
    return {
        name: (min(low for low, _ in each), max(high for _, high in each))
        for name, each in {**found, **declared}.items()
    }


def counted(project: Project, inputs: Inputs) -> frozenset[str]:
    """The readings that a calculator takes as a count: whole numbers alone."""
    return frozenset(
        reading
        for reading, calculator, name in takers(project)
        if getattr(inputs(calculator).get(name), "uncertainty", None) == COUNTED
    )


def gauge_steps(project: Project, inputs: Inputs) -> dict[str, float]:
    """How finely the gauge shows each reading that is taken with one, in the reading's own unit.

    The gauge is the one that a calculator or a step takes where nothing is chosen. Of several the
    coarsest counts: a figure that no gauge shows can't have been read.
    """
    known = {
        name: entry
        for name, entry in project.one("visit_record").items()
        if entry.get("state") != "any"  # a data plate shows a pressure, and no gauge shows that
    }
    instruments = project.one("instruments")
    found: dict[str, list[float]] = {}
    for reading, gauge in _read_with(project, inputs):
        about = instruments.get(gauge, {})
        if reading in known and about.get("measures") == "pressure":
            step = Quantity(*_parted(about["resolution"]["value"]))
            unit = parse_unit(known[reading]["unit"])
            found.setdefault(reading, []).append(float(step.to(unit).magnitude))
    return {name: max(each) for name, each in found.items()}


def _read_with(project: Project, inputs: Inputs) -> Iterator[tuple[str, str]]:
    """Each reading with the instrument that takes it, by what calculators and steps declare."""
    for reading, calculator, name in takers(project):
        known = inputs(calculator)
        with_ = known.get(getattr(known.get(name), "read_with", None) or "")
        if with_ is not None:
            yield reading, with_.default
    for step in project.each("procedure", "steps", ...):
        if gauge := step["outcome"]["instrument"].text:
            yield from ((reading.text, gauge) for reading in step["reading"].texts())


def _parted(text: str) -> tuple[float, Any]:
    number, unit = text.split(" ", 1)
    return float(number), parse_unit(unit)


def from_registry(stem: str) -> dict[str, Any]:
    """Inputs of a calculator of calcs."""
    from calcs.engine.registry import all_inputs, calculators  # noqa: PLC0415  # as in declared.py

    known = calculators()
    found: dict[str, Any] = {}
    for item in all_inputs(known[stem]) if stem in known else ():
        found[item.name] = item
        found |= {f"{item.name}.{each.name}": each for each in getattr(item, "columns", ())}
    return found


@lru_cache(maxsize=64)
def units_of(unit: str) -> dict[str, Meaning]:
    """Every spelling of a unit of this kind, with its factor and what is added after it.

    A third number, 1, says that a comma in a figure of it can only part thousands.

    In other letters a spelling counts where it still means the same: "a" is a year, and no ampere.
    """
    found: dict[str, Meaning] = {}
    for spelling in filter(None, (unit, unit_text(unit), *SPELLINGS)):
        meaning = _meaning(spelling, unit)
        for each in _in_other_letters(spelling) if meaning else ():
            if meaning and _meaning(each, unit) == meaning:
                found[each] = meaning
    return dict(sorted(found.items()))


def _in_other_letters(spelling: str) -> set[str]:
    return {spelling, spelling.lower(), spelling.upper(), spelling.capitalize()}


def _meaning(spelling: str, unit: str) -> Meaning | None:
    """What a number in that spelling is in the unit; None where calcs does not take it."""
    try:
        nought, one = (read_quantity("reading", f"{n} {spelling}", unit, (unit,)) for n in "01")
    except Refusal:
        return None
    wanted = parse_unit(unit)
    start = float(nought.to(wanted).magnitude)
    ends = (float(one.to(wanted).magnitude) - start, start)
    small = (1,) if has_no_thousandths(one.units) else ()
    return (*(float(f"{each:.15g}") for each in ends), *small)
