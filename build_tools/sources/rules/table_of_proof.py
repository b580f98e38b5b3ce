"""Each row of a table of proof says what must come out and how that is known.

`tests/tables/rows.py` explains the keys. The rows themselves are run by the command `test`.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from build_tools.sources.naming import SOURCE, declared
from build_tools.sources.problems import Problem, listing, nearest, rename_fix
from build_tools.sources.project import Project, stem_of
from build_tools.sources.read_yaml import Document
from build_tools.sources.rule import Rule
from build_tools.sources.rules.provenance_has_source import SEEN

PUBLISHED, SECONDARY, LIBRARY, MEMORY, WORKING = (
    "published", "secondary", "library", "from_memory", "working",
)  # fmt: skip
CITED = (PUBLISHED, SECONDARY, MEMORY)
OUTSIDE = (PUBLISHED, SECONDARY, LIBRARY)  # what neither this project nor its memory made
HOW = (
    "Say how its answer is known: 'published', 'secondary' or 'from_memory' with "
    "{id: <of data/sources.yaml>, where: <place>}, 'library' with a name of "
    "tests/tables/libraries.py, or 'working' with the sum written out."
)
EXPECTS = (
    "expect", "shown", "verdicts", "verdicts_say", "notes", "notes_say", "refused", "uncertainty",
    "tables", "charts", LIBRARY,
)  # fmt: skip
KEYS = ("id", "given", "overrides", "on", *EXPECTS, "within", "because", *CITED, WORKING)
FEWEST = 4


def check(project: Project) -> Iterator[Problem]:
    """Look at the names, the keys and the sources of the rows."""
    for document in project.of_kind("proof"):
        stem = stem_of(document.file)
        named = document.value.get("calculator")
        if isinstance(named, str) and named and named != stem:
            found, fix = f"This is a table of '{stem}'.", f"write 'calculator: {stem}'"
            yield document.problem(("calculator",), found, "", fix)
        listed = document.value.get("rows")
        rows = [row for row in listed if isinstance(row, dict)] if isinstance(listed, list) else []
        if rows and len(rows) < FEWEST:
            found = f"There are {len(rows)} rows."
            expected = f"A calculator is proved by {FEWEST} or more, of different kinds."
            yield document.problem(("rows",), found, expected, "add a row", key=True)
        yield from _blank(document)
        yield from _twice(document, rows)
        for number, row in enumerate(listed if isinstance(listed, list) else ()):
            if isinstance(row, dict):
                yield from _row(document, number, row, project)


def _blank(document: Document) -> Iterator[Problem]:
    """What the command `new` leaves to be filled in. A cell of a table may be empty."""
    for key_path, text in document.texts():
        is_of_row = key_path[0] == "rows" and len(key_path) > 2
        is_cell = is_of_row and (
            key_path[2] == "tables" or (key_path[2] == "given" and len(key_path) > 4)
        )
        if is_of_row and not is_cell and not text:
            yield document.problem(key_path, "This is empty.", "", "fill it in, or delete its key")


def _twice(document: Document, rows: list[dict[str, Any]]) -> Iterator[Problem]:
    counted = Counter(str(row.get("id")) for row in rows)
    seen: set[str] = set()
    for number, row in enumerate(rows):
        name = str(row.get("id"))
        if name in seen and counted[name] > 1 and row.get("id"):
            found, fix = f"Another row has the id '{name}'.", "give each row its own"
            yield document.problem(("rows", number, "id"), found, "", fix)
        seen.add(name)


def _row(
    document: Document, number: int, row: dict[str, Any], project: Project
) -> Iterator[Problem]:
    key_path = ("rows", number)
    known = [key for key in KEYS if key not in row]
    strays = [key for key in row if key not in KEYS]
    meant = {nearest(key, known) for key in strays}
    for key in strays:
        expected = HOW if key == "source" else f"There are: {listing(KEYS, 30)}."
        fix = rename_fix(key, known, f"delete '{key}'")
        found = f"Nothing reads a key '{key}' of a row."
        yield document.problem((*key_path, key), found, expected, fix, key=True)
    for key in ("id", "given"):
        if key not in row and key not in meant:
            yield document.problem(
                key_path, f"The key '{key}' is missing here.", "", f"add '{key}'"
            )
    if not any(key in row or key in meant for key in EXPECTS):
        found = "Nothing is expected of this row."
        yield document.problem(key_path, found, "", "add 'expect', or 'refused' with the reason")
    # A key that is misspelt or was dropped says how the answer is known, and not well.
    is_told = "source" in row or meant & {*CITED, LIBRARY, WORKING}
    if project.are_whole(*SOURCE.files) and not is_told:
        sources = {name: project.sources[name] for name in declared(project, SOURCE)}
        if wrong := not_known(row, sources):
            yield document.problem(key_path, wrong, "", "say how its answer is known, and where")


def not_known(row: Mapping[str, Any], sources: Mapping[str, Any]) -> str:
    """What is wrong with how a row says that its answer is known; empty where nothing is."""
    told = [kind for kind in (*CITED, LIBRARY) if kind in row]
    if len(told) > 1:
        return f"Its answer is known in more than one way: {told}. Keep the one that it rests on."
    if not told and WORKING not in row:
        return HOW
    return _cited(told[0], row[told[0]], sources) if told and told[0] in CITED else ""


def _cited(kind: str, cite: Any, sources: Mapping[str, Any]) -> str:
    if not isinstance(cite, dict) or set(cite) != {"id", "where"}:
        return f"'{kind}' is to be {{id: <of data/sources.yaml>, where: <place>}}."
    if not all(cite.values()):
        return ""  # told as empty
    source = sources.get(cite["id"])
    if source is None:
        return f"data/sources.yaml has no '{cite['id']}'."
    seen = source.get("seen") if isinstance(source, dict) else None
    if isinstance(seen, str) and seen not in SEEN.get(kind, {seen}):
        return f"It is '{kind}', and its source '{cite['id']}' is '{seen}'."
    return ""


RULE = Rule("table-of-proof", "Each row of proof says how its answer is known.", check)
