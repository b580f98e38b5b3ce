"""What a drawing is told: its params, checked, and the figures that it may show."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from build_tools.sources.days import build_day, in_force
from build_tools.sources.problems import listing, rename_fix
from calcs.engine.units import parse_quantity, unit_text

NO_BREAK_SPACE = "\N{NO-BREAK SPACE}"


class DrawingProblem(ValueError):
    """A diagram that can't be drawn as its file asks: what was found, what is known, the fix."""

    def __init__(self, found: str, expected: str, fix: str) -> None:
        super().__init__(f"{found} {expected} Fix: {fix}.")
        self.found, self.expected, self.fix = found, expected, fix


@dataclass(frozen=True)
class OneOf:
    """A param that is one of a few words. The first is the default."""

    options: tuple[str, ...]


@dataclass(frozen=True)
class SomeOf:
    """A param that is a list of words, empty where none is given."""

    options: tuple[str, ...]


@dataclass(frozen=True)
class FigureName:
    """A param that names a figure or a reading. Its value is shown or drawn to."""

    optional: bool = False


CalculatorSpec = Mapping[str, OneOf | SomeOf | FigureName]


@dataclass(frozen=True)
class Figures:
    """The numbers that a drawing may show: figures as they stand on one day, and readings."""

    held: Mapping[str, Any]
    readings: Mapping[str, Any] = field(default_factory=dict)
    day: date = field(default_factory=build_day)
    tables: Mapping[str, Any] = field(default_factory=dict)

    def scalar(self, name: str) -> str:
        """A figure as its file writes it, `21 mbar`.

        Raises:
            DrawingProblem: No figure or reading of that name has a value.
        """
        if name in self.readings:
            return str(self.readings[name]["value"])
        if name not in self.held:
            raise unknown("figure or reading", name, [*self.held, *self.readings])
        dated_value = in_force(self.held[name]["values"], self.day)
        if dated_value is None or dated_value.get("value") is None:
            raise DrawingProblem(
                f"The figure '{name}' has no value on {self.day.isoformat()}.",
                "A drawing shows only figures that are held.",
                "name a figure or a reading that has one",
            )
        return str(dated_value["value"])

    def text(self, name: str) -> str:
        """A figure as the trade writes it, kept on one line."""
        return as_written(self.scalar(name))

    def cell(self, table: str, column: str, **row: str) -> str:
        """A cell of a table as it stands on the day, by what else is in its row: `300 mm`.

        Raises:
            DrawingProblem: There is no such table, or no row of it has that.
        """
        if table not in self.tables:
            raise unknown("table", table, self.tables)
        names = [each["name"] for each in self.tables[table]["columns"]]
        dated_value = in_force(self.tables[table]["values"], self.day) or {}
        rows = [dict(zip(names, cells, strict=True)) for cells in dated_value.get("rows") or ()]
        for each in rows:
            if all(each[name] == value for name, value in row.items()):
                return str(each[column])
        asked = ", ".join(f"{name} {value}" for name, value in row.items())
        raise DrawingProblem(
            f"The table '{table}' has no row with {asked} on {self.day.isoformat()}.",
            "A drawing shows only figures that are held.",
            "name a row that it has",
        )

    def number(self, name: str, unit: str) -> float:
        """A figure as a plain number of one unit, to draw by."""
        return float(parse_quantity(self.scalar(name)).to(unit).magnitude)


def as_written(scalar: str) -> str:
    """A measurement as the trade writes it, kept on one line."""
    number, _, unit = scalar.partition(" ")
    return f"{number}{NO_BREAK_SPACE}{unit_text(unit)}" if unit else number


def read(params: Mapping[str, Any], declared: CalculatorSpec) -> dict[str, Any]:
    """Every declared param, given or by default.

    Raises:
        DrawingProblem: A param is not known, is missing, or is not one of its options.
    """
    for name in params:
        if name not in declared:
            raise unknown("param", name, declared)
    return {name: _one(name, params.get(name), kind) for name, kind in declared.items()}


def _one(name: str, value: Any, kind: OneOf | SomeOf | FigureName) -> Any:
    if isinstance(kind, SomeOf):
        listed = [] if value is None else value if isinstance(value, list) else [value]
        for each in listed:
            if each not in kind.options:
                raise unknown(f"part for {name}", each, kind.options)
        return listed
    if isinstance(kind, OneOf):
        if value is None:
            return kind.options[0]
        if value not in kind.options:
            raise unknown(f"way for {name}", value, kind.options)
        return value
    if value is None and not kind.optional:
        raise DrawingProblem(
            f"The param '{name}' is missing.",
            "It names a figure or a reading.",
            f"add {name} to the params",
        )
    return value


def unknown(kind: str, name: object, known: Iterable[str]) -> DrawingProblem:
    """The problem of a name that nothing has, with the nearest that something has."""
    names = list(known)
    fix = rename_fix(str(name), names, "name one of those")
    return DrawingProblem(f"There is no {kind} '{name}'.", f"There are: {listing(names)}.", fix)
