"""What the pages look things up from: figures in force, sources, readings, other pages."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from typing import Any

from build_tools.pages.hosts import Hosts
from build_tools.sources.days import example_day, first_day, in_force
from build_tools.sources.problems import Problem
from build_tools.sources.read_yaml import Document
from calcs.engine.units import unit_text

NO_BREAK_SPACE = "\N{NO-BREAK SPACE}"
HOST_RULE = "host-rule"  # provenance of a limit that a host sets for its own readers
CALENDAR = ("day", "week", "month", "year")  # "2 a" is no word for two years outside a laboratory
AS_WRITTEN = {"m³/(h*m²)": "m³/(h·m²)"}  # air through an area: pint would cancel it to "m/h"
Ask = Callable[[dict[str, Any]], dict[str, Any]]  # a request of calcs.bridge to its reply


CAPITALS = frozenset({"lpg"})  # of the words that names are made of


def _written(name: str) -> str:
    """Part of a name as it is written in words: `lpg_air` is LPG air."""
    return " ".join(word.upper() if word in CAPITALS else word for word in name.split("_"))


@dataclass(frozen=True)
class Limit:
    """A figure as a page shows it: one dated value, and those that it replaced."""

    name: str
    label: str
    meaning: str
    text: str  # "21 mbar"; empty where no figure is held
    provenance: str
    since: str
    until: str | None = None
    edition: str | None = None
    source: Mapping[str, str] | None = None
    note: str | None = None
    later: str | None = None  # first day of a dated value that is not in force yet
    replaced: tuple["Limit", ...] = ()
    of_hosts: tuple["Limit", ...] = ()  # tighter ones, each under its host's name
    value: str = ""  # the figure as the data have it, "14 day"
    stated_in: str = ""  # reading of a visit in which the appliance's own figure is typed


@dataclass
class PageContext:
    """Everything that a page may name, and the problems found while looking."""

    bundle: Mapping[str, Any]
    day: date
    ask: Ask
    visit_record: Mapping[str, Any] = field(default_factory=dict)
    scenario: Mapping[str, Any] = field(default_factory=dict)
    scenario_forms: Mapping[str, Any] = field(default_factory=dict)
    invented_card: Mapping[str, Any] = field(default_factory=dict)
    calculator_files: Mapping[str, Document] = field(default_factory=dict)
    diagrams: Mapping[str, Any] = field(default_factory=dict)
    provenances: Mapping[str, str] = field(default_factory=dict)  # what each means, in a sentence
    ranges: Mapping[str, tuple[float, float]] = field(default_factory=dict)  # of each reading
    gauge_steps: Mapping[str, float] = field(default_factory=dict)  # of each that a gauge shows
    counted: frozenset[str] = frozenset()  # readings that are whole numbers
    check_pages: frozenset[str] = frozenset()  # those that a visit may be led to
    questions: Mapping[str, Any] = field(default_factory=dict)  # as calcs.practice takes them
    draws_charts: bool = True  # Node draws them, which `check` neither has nor needs
    site_name: str = "Handbook"
    emergency_contact: str = ""
    hosts: Hosts = field(default_factory=Hosts)  # what is laid over the handbook
    pages: dict[str, str] = field(default_factory=dict)  # "procedures/purging" to its title
    problems: list[Problem] = field(default_factory=list)

    @cached_property
    def example_day(self) -> date:
        """The day that worked examples are judged on."""
        return example_day(self.bundle, self.day)

    @property
    def figures(self) -> Mapping[str, Any]:
        """Every figure of the bundle, by name."""
        return self.bundle["figures"]

    @property
    def sources(self) -> Mapping[str, Any]:
        """Every source of the bundle, by id."""
        return self.bundle["sources"]

    @cached_property
    def labels(self) -> dict[str, str]:
        """A label for every figure. Figures with one label are told apart by their names."""
        alike: dict[str, list[str]] = {}
        for name, figure in self.figures.items():
            alike.setdefault(figure["label"] or name, []).append(name)
        return {
            name: self._told_apart(label, name, each)
            for label, each in alike.items()
            for name in each
        }

    def _told_apart(self, label: str, name: str, alike: list[str]) -> str:
        """`Density, propane`: the label, with the words of the name that the others lack."""
        shared = set.intersection(*(set(each.split(".")) for each in alike))
        own = [word for word in name.split(".") if word not in shared] if len(alike) > 1 else []
        instruments = self.bundle["instruments"]
        words = [
            instruments[word]["title"].lower() if word in instruments else _written(word)
            for word in own
        ]
        return ", ".join([label, *words])

    def limit(self, name: str) -> Limit:
        """The figure of that name, as it stands on the day of the build."""
        figure = {**self.figures[name], "label": self.labels[name]}
        dated_values = sorted(figure["values"], key=lambda each: str(each["from"]))
        now = in_force(dated_values, self.day)
        if now is None:
            return self._not_in_force(name, figure, dated_values)
        replaced = [each for each in dated_values if each["from"] < now["from"]]
        later = [each["from"] for each in dated_values if each["from"] > now["from"]]
        older = tuple(limit_of(name, figure, each) for each in reversed(replaced))
        found = limit_of(name, figure, now, later=min(later, default=None), replaced=older)
        return replace(found, of_hosts=tuple(self._of_hosts(name)))

    def _of_hosts(self, name: str) -> Iterator[Limit]:
        """Limits of hosts' own that are tighter than this figure, as they stand on the day."""
        for each in self.hosts.limits.get(name, ()):
            dated = [
                {**value, "provenance": "invented" if "invented" in value else HOST_RULE}
                for value in each["values"]
            ]
            if (now := in_force(dated, self.day)) is not None:
                told = {"label": f"{each['label']}, {each['host']}", "meaning": ""}
                source = {**now["source"], "title": self.sources[now["source"]["id"]]["title"]}
                values = {**now, "from": first_day(now), "source": source}
                yield limit_of(each["name"], told, values)

    def _not_in_force(self, name: str, figure: Any, dated_values: list[Any]) -> Limit:
        """A figure with no dated value in force: those that have ended, and the next to begin."""
        past = [each for each in dated_values if each["from"] <= self.day.isoformat()]
        later = [each["from"] for each in dated_values if each not in past]
        older = tuple(limit_of(name, figure, each) for each in reversed(past))
        blank = {"from": "", "provenance": "not-held", "value": None}
        return limit_of(name, figure, blank, later=min(later, default=None), replaced=older)

    def limits(self, names: Iterable[str]) -> list[Limit]:
        """Limits of the figures named, each once, in the order given."""
        return [self.limit(name) for name in dict.fromkeys(names) if name in self.figures]


def limit_of(
    name: str,
    figure: Mapping[str, Any],
    dated_value: Mapping[str, Any],
    later: str | None = None,
    replaced: tuple[Limit, ...] = (),
) -> Limit:
    """A figure as a page shows it.

    Args:
        name: The name by which it is linked to.
        figure: Its label, its meaning and what else is true of all its values.
        dated_value: One of its values, as the bundle has it.
        later: First day of the next one.
        replaced: Those before it, the latest first.
    """
    return Limit(
        name=name,
        label=figure["label"],
        meaning=figure["meaning"] or "",
        text=measure(dated_value["value"]) if dated_value.get("value") else "",
        provenance=dated_value["provenance"],
        since=dated_value["from"],
        until=dated_value.get("until"),
        edition=dated_value.get("edition"),
        source=dated_value.get("source"),
        note=dated_value.get("note"),
        later=later,
        replaced=replaced,
        value=dated_value.get("value") or "",
        stated_in=figure.get("stated_in", ""),
    )


def measure(scalar: str) -> str:
    """`39.5 MJ/m**3` as the trade writes it, kept on one line.

    >>> measure("5 percent").replace(NO_BREAK_SPACE, " ")
    '5 %'
    >>> measure("5 m³/(h*m²)").replace(NO_BREAK_SPACE, " ")
    '5 m³/(h·m²)'
    >>> measure("14 day").replace(NO_BREAK_SPACE, " ")
    '14 days'
    """
    number, _, unit = scalar.strip().partition(" ")
    if unit in CALENDAR:
        return f"{number}{NO_BREAK_SPACE}{unit}{'' if number == '1' else 's'}"
    return f"{number}{NO_BREAK_SPACE}{_unit(unit)}" if unit else number


def _unit(unit: str) -> str:
    """A unit as the trade writes it; a unit that pint can't read is another rule's to report."""
    if unit in AS_WRITTEN:
        return AS_WRITTEN[unit]
    try:
        return unit_text(unit)
    except ValueError:
        return unit
