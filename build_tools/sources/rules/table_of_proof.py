"""Each row of a table of proof says what must come out and how that is known.

`tests/tables/rows.py` explains the keys. The rows themselves are run by the command `test`.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from build_tools.sources.naming import SOURCE
from build_tools.sources.node import Node
from build_tools.sources.problems import Problem, listing, nearest, rename_fix
from build_tools.sources.project import Project, stem_of
from build_tools.sources.rules.provenance_has_source import SEEN

LOOKS_AT = ("proof", "sources", "host_sources")
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
    for table in project.nodes("proof"):
        stem, named = stem_of(table.document.file), table["calculator"]
        if named.text and named.text != stem:
            found, fix = f"This is a table of '{stem}'.", f"write 'calculator: {stem}'"
            yield named.problem(found, "", fix)
        rows = [row for row in table["rows"].items() if row.is_mapping]
        if rows and len(rows) < FEWEST:
            found = f"There are {len(rows)} rows."
            expected = f"A calculator is proved by {FEWEST} or more, of different kinds."
            yield table["rows"].problem(found, expected, "add a row", key=True)
        seen: set[str] = set()
        for row in rows:
            name = row["id"].text
            if name and name in seen:
                found, fix = f"Another row has the id '{name}'.", "give each row its own"
                yield row["id"].problem(found, "", fix)
            seen.add(name)
            yield from _blank(row)
            yield from _row(row, project)


def _blank(row: Node) -> Iterator[Problem]:
    """What the command `new` leaves to be filled in. A cell of a table may be empty."""
    for node in row.texts():
        _, _, key, *below = node.key_path
        is_cell = key == "tables" or (key == "given" and len(below) > 1)
        if not node.text and not is_cell:
            yield node.problem("This is empty.", "", "fill it in, or delete its key")


def _row(row: Node, project: Project) -> Iterator[Problem]:
    known = [key for key in KEYS if key not in row]
    strays = [key for key in row.names if key not in KEYS]
    meant = {nearest(key, known) for key in strays}
    for key in strays:
        expected = HOW if key == "source" else f"There are: {listing(KEYS, 30)}."
        fix = rename_fix(key, known, f"delete '{key}'")
        found = f"Nothing reads a key '{key}' of a row."
        yield row[key].problem(found, expected, fix, key=True)
    for key in ("id", "given"):
        if key not in row and key not in meant:
            yield row.problem(f"The key '{key}' is missing here.", "", f"add '{key}'")
    if not any(key in row or key in meant for key in EXPECTS):
        found = "Nothing is expected of this row."
        yield row.problem(found, "", "add 'expect', or 'refused' with the reason")
    # A key that is misspelt or was dropped says how the answer is known, and not well.
    is_told = "source" in row or meant & {*CITED, LIBRARY, WORKING}
    wrong = not is_told and not_known(row.value, project.sources)
    if wrong and project.are_whole(*SOURCE.files):
        yield row.problem(wrong, "", "say how its answer is known, and where")


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
