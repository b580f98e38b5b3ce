"""Packs data and words into the one JSON text that calcs works from.

calcs reads no files. It is handed this bundle, in the browser and on the command line alike.
"""

import json
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from build_tools.runtime import bundled_steps
from build_tools.runtime.cache import write_whole
from build_tools.setup.paths import ROOT
from build_tools.sources.days import build_day, first_day
from build_tools.sources.edition import edition
from build_tools.sources.load_project import load
from build_tools.sources.problems import Problem, ProblemsFound
from build_tools.sources.project import (
    CROSS_CHECK,
    SHARED_LABELS,
    SHARED_SAYINGS,
    Project,
    kind_of,
    stem_of,
)
from build_tools.sources.schema_faults import faults

PLACE = "calcs/bundle.json"
# The kinds of file that go into the bundle. The others are the pages' own.
BUNDLED = {
    *("limits", "gases", "table", "instruments", "sources", "visit_record"),
    *("calculator", "words", "procedure"),
    *CROSS_CHECK,
}


def make(day: date | None = None, root: Path = ROOT) -> dict[str, Any]:
    """The bundle of the project at `root`, as built on `day`.

    Raises:
        ProblemsFound: A file that goes into the bundle can't be read or lacks its shape.
    """
    project = load(root)
    problems = list(_unusable(project))
    if problems:
        raise ProblemsFound(problems)
    day = day or build_day()
    return {"edition": edition(day, root), **contents(project)}


def _unusable(project: Project) -> Iterator[Problem]:
    for file, document in project.documents.items():
        if kind_of(file) in BUNDLED:
            yield from document.problems
    yield from faults(project, *BUNDLED)


def contents(project: Project) -> dict[str, Any]:
    """All of the bundle but its edition."""
    sources = project.sources
    return {
        "figures": {name: _figure(each, sources) for name, each in project.figures.items()},
        "tables": {stem: _table(each, sources) for stem, each in project.tables.items()},
        "instruments": {
            name: _instrument(each, sources) for name, each in project.one("instruments").items()
        },
        "sources": sources,
        "words": _words(project),
        "cross_check": _cross_check(project),
        "readings": bundled_steps.readings(project),
        "steps": bundled_steps.steps(project),
        "assumed": bundled_steps.assumed(project),
    }


def write(day: date | None = None, root: Path = ROOT) -> Path:
    """Make the bundle and write it where `python -m calcs` looks for it."""
    return write_made(make(day, root), root)


def write_made(bundle: Mapping[str, Any], root: Path = ROOT) -> Path:
    """Write a bundle that was made. Same source, same bytes."""
    return write_whole(root / PLACE, json.dumps(bundle, ensure_ascii=False, indent=1) + "\n")


def _source(source: Any, sources: Mapping[str, Any]) -> dict[str, Any] | None:
    if not isinstance(source, dict):
        return None
    title = sources.get(source.get("id"), {}).get("title", source.get("id"))
    return {"id": source.get("id"), "where": source.get("where"), "title": title}


def _dated_value(dated_value: Mapping[str, Any], sources: Mapping[str, Any]) -> dict[str, Any]:
    keys = ("from", "until", "value", "edition", "provenance")
    packed = {
        **{key: dated_value.get(key) for key in keys},
        "from": first_day(dated_value),
        "source": _source(dated_value.get("source"), sources),
        "note": dated_value.get("note"),
    }
    if "half_width" in dated_value:
        packed["half_width"] = dated_value["half_width"].get("value")
    return packed


def _figure(figure: Mapping[str, Any], sources: Mapping[str, Any]) -> dict[str, Any]:
    values = [_dated_value(dated_value, sources) for dated_value in figure.get("values", [])]
    keys = ("label", "meaning", "unit", "kind", "bound", "uncertainty", "stated_in")
    head = {key: figure[key] for key in keys if key in figure}
    return {**head, "values": values}


def _table(table: Mapping[str, Any], sources: Mapping[str, Any]) -> dict[str, Any]:
    names = [column["name"] for column in table.get("columns", [])]
    values = []
    for dated_value in table.get("values", []):
        packed = _dated_value(dated_value, sources)
        del packed["value"]
        packed["rows"] = _rows(dated_value["rows"], names) if "rows" in dated_value else None
        values.append(packed)
    keys = ("title", "meaning", "uncertainty", "columns")
    head = {key: table[key] for key in keys if key in table}
    return {**head, "values": values}


def _rows(rows: list[Any], names: list[str]) -> list[list[str]]:
    """Rows as lists of cells, whether they were written as lists or by column name."""
    return [
        [row.get(name, "") for name in names] if isinstance(row, dict) else list(row)
        for row in rows
    ]


def _cross_check(project: Project) -> dict[str, Any]:
    """Relations, signatures and the rest by stem, without what only explains a figure.

    `answers` are those of the calculator: which of its options the answers of a visit choose.
    """
    parts = {
        stem_of(document.file): _unexplained(document.value)
        for document in project.of_kind(*CROSS_CHECK)
    }
    words = {stem_of(each.file): each.value for each in project.of_kind("calculator")}
    return {**parts, "answers": words.get("cross_check", {}).get("answers", {})}


def _unexplained(part: Any) -> Any:
    if isinstance(part, dict):
        return {k: _unexplained(v) for k, v in part.items() if k not in ("note", "source")}
    return part


def _instrument(instrument: Mapping[str, Any], sources: Mapping[str, Any]) -> dict[str, Any]:
    packed: dict[str, Any] = {key: instrument.get(key) for key in ("title", "measures", "unit")}
    if "family" in instrument:
        packed["family"] = instrument["family"]
    for key in ("resolution", "accuracy", "movement"):
        part = instrument.get(key)
        if part is None:
            continue
        source = _source(part.get("source"), sources)
        packed[key] = {
            "value": part.get("value"),
            "provenance": part.get("provenance"),
            "source": source,
        }
    return {**packed, "note": instrument.get("note")}


def _words(project: Project) -> dict[str, Any]:
    """The words of each calculator, with those that calculators share laid under its own."""
    shared = project.one("words")
    words: dict[str, Any] = {"_shared": {k: v for k, v in shared.items() if k not in SHARED_LABELS}}
    groups = ("inputs", "outputs", "tables", "charts", "steps", "verdicts", *SHARED_SAYINGS)
    keys = ("title", *groups, "cautions")
    for document in project.of_kind("calculator"):
        own = {key: document.value[key] for key in keys if key in document.value}
        # The page shows them above the form as well. A reader of the answer alone needs them too.
        own["cautions"] = [*(document.value.get("before") or []), *own.get("cautions", [])]
        for group in SHARED_LABELS:
            own[group] = {**shared.get(group, {}), **own.get(group, {})}
        words[stem_of(document.file)] = own
    return words
