"""A host fills in only what is not held, of the same source, and its own limits are tighter."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from build_tools.sources.days import in_force
from build_tools.sources.filled import Fill, open_value
from build_tools.sources.naming import FIGURE, missing
from build_tools.sources.node import Node
from build_tools.sources.parse_value import is_declared, misfit, quantity
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project, kind_of, stem_of
from build_tools.sources.read_yaml import get_path
from build_tools.sources.rules import table_rows

ONLY_OPEN = "A host fills in only what the handbook does not hold."
TIGHTER = {"greatest": "less", "least": "more"}  # what a tighter limit is than the one it is beside


def check(project: Project) -> Iterator[Problem]:
    """Look at what overlays fill in, and at their limits."""
    yield from _fills(project)
    seen: dict[str, str] = {}
    for whole in project.nodes("host_limits"):
        for name in whole.names:
            yield from _limit(whole[name], name, seen, project)


def _fills(project: Project) -> Iterator[Problem]:
    beneath = {
        **{stem_of(f): d.value for f, d in project.documents.items() if kind_of(f) == "table"},
        **{
            name: figure
            for document in project.of_kind("limits", "gases")
            for name, figure in document.value.items()
        },
    }
    before: dict[tuple[str, str], str] = {}
    for fill in project.fills("table_filled", "figures_filled"):
        kind = "table" if fill.key == "rows" else "figure"
        if fill.name and fill.name not in beneath and kind == "figure":
            yield from missing(project, FIGURE, fill.name, _at(fill.node))
        if fill.name not in beneath or not fill.node.is_mapping:
            continue
        yield from _fits(fill, beneath[fill.name], kind, before)
        yield from _read_on(fill.node["read_on"], project)
        holder = beneath[fill.name]
        if kind == "table":
            yield from _rows(fill, project)
        elif isinstance(holder, dict) and fill.node["value"].text:
            yield from _measures(fill.node["value"], holder)


def _at(node: Node) -> Any:
    """Makes a problem at the key of a place."""
    return lambda found, expected, fix: node.problem(found, expected, fix, key=True)


def _fits(
    fill: Fill, holder: Any, kind: str, before: dict[tuple[str, str], str]
) -> Iterator[Problem]:
    place = fill.node["of"] if kind == "table" else fill.node
    source = fill.node["source"]["id"]
    values = get_path(holder, "values")
    kept = [each for each in values if isinstance(each, dict)] if isinstance(values, list) else []
    is_open = [each for each in kept if each.get("provenance") == "not-held"]
    if kept and not is_open:
        found = f"The {kind} '{fill.name}' is held, as '{kept[-1].get('provenance')}'."
        fix = "delete it, or write a tighter limit of your own under limits/"
        yield place.problem(found, ONLY_OPEN, fix, key=kind == "figure")
    elif kept and source.text and open_value(holder, fill) is None:
        names = [str(get_path(each, "source", "id")) for each in is_open]
        found = f"'{fill.name}' is not left open for what '{source.text}' says."
        fix = f"read it in '{names[-1]}', and write that"
        yield source.problem(found, f"It is open for: {', '.join(names)}.", fix)
    elif source.text:
        if (fill.name, source.text) in before:
            found = f"'{fill.name}' is filled in already, in {before[fill.name, source.text]}."
            yield place.problem(found, "", "delete it in one of them", key=kind == "figure")
        before.setdefault((fill.name, source.text), fill.node.document.file)


def _read_on(node: Node, project: Project) -> Iterator[Problem]:
    if (day := _day(node)) is False:
        yield node.problem(f"There is no day {node.text}.", "", "write the day it was read on")
    elif day and day > project.day:
        yield node.problem("That day is still to come.", "", "write the day it was read on")


def _day(node: Node) -> date | bool | None:
    """The day that is written; False where the calendar has no such day, None where none is."""
    try:
        return date.fromisoformat(node.text) if node.text.count("-") == 2 else None
    except ValueError:
        return False


def _rows(fill: Fill, project: Project) -> Iterator[Problem]:
    document = next(
        d for f, d in project.documents.items()
        if kind_of(f) == "table" and stem_of(f) == fill.name
    )  # fmt: skip
    whole = Node(document, (), document.value)
    columns = [column for column in whole["columns"].items() if column.is_mapping]
    yield from table_rows.of_rows(columns, fill.node["rows"].items())


def _measures(node: Node, holder: Any) -> Iterator[Problem]:
    if wrong := misfit(node.text, holder):
        found, fix = wrong
        told = holder.get("unit") or holder.get("kind")
        yield node.problem(found, f"The handbook has it in: {told}.", fix)


def _limit(limit: Node, name: str, seen: dict[str, str], project: Project) -> Iterator[Problem]:
    if name in project.figures or name in seen:
        where = seen.get(name, "the handbook")
        found = f"There is a figure '{name}' already, in {where}."
        yield limit.problem(found, "A limit of your own has its own name.", "rename it", key=True)
    seen.setdefault(name, limit.document.file)
    base = project.figures.get(limit["tighter_than"].text)
    for value in limit["values"].items():
        for key in ("from", "until"):
            if _day(value[key]) is False:
                yield value[key].problem(f"There is no day {value[key].text}.", "", "write a day")
    if not isinstance(base, dict) or not is_declared(base):
        return
    bound, held = base.get("bound"), _in_force(base, project.day)
    place = limit["tighter_than"]
    if bound not in TIGHTER:
        found = f"Neither less nor more is tighter than '{place.text}'."
        tell = "A limit of your own stands beside a greatest or a least that is permitted."
        yield place.problem(found, tell, "delete this limit, or say it in words under words/")
    elif held is None:
        found = f"The handbook holds no '{place.text}' today that yours could be tighter than."
        yield place.problem(found, "", "delete it, or fill that in from your copy under figures/")
    else:
        for value in limit["values"].items():
            yield from _tighter(value["value"], base, str(bound), held)


def _in_force(figure: Any, day: date) -> str | None:
    values = [each for each in figure.get("values") or () if isinstance(each, dict)]
    try:
        now = in_force(values, day)
    except TypeError:
        return None
    held = now.get("value") if now else None
    return held if isinstance(held, str) else None


def _tighter(node: Node, base: Any, bound: str, held: str) -> Iterator[Problem]:
    if not node.text:
        return
    wrong = [*_measures(node, base)]
    yield from wrong
    own, theirs = quantity(node.text), quantity(held)
    if wrong or own is None or theirs is None:
        return
    own_size, their_size = (each.to_base_units().magnitude for each in (own, theirs))
    if not (own_size < their_size if bound == "greatest" else own_size > their_size):
        found = f"'{node.text}' is not tighter than the handbook's '{held}'."
        expected = f"Yours must be {TIGHTER[bound]}: a host may ask for more care, never for less."
        yield node.problem(found, expected, "write a tighter one, or delete it")
