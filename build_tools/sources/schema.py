"""What each kind of file looks like: `schemas/` as JSON Schema, and each file walked by it.

`schemas/forms.yaml` says how they are written.
"""

import re
from collections.abc import Mapping
from copy import deepcopy
from functools import cache
from itertools import takewhile
from pathlib import Path
from typing import Any

from build_tools.sources.node import Node
from build_tools.sources.page_kinds import FOLDERS
from build_tools.sources.read_yaml import Document, KeyPath, get_path, read_file

Schema = Mapping[str, Any]

HERE = Path(__file__).parent / "schemas"
SAME = {"gases": "limits", "host_sources": "sources"}  # a kind of file that looks like another
SAYS = "# "  # before a key: not the form of it, but what is said of it
BEHIND = re.compile(r"  # (.+)$")
TYPES = {str: "string", list: "array", dict: "object"}


@cache
def schema_of(kind: str) -> Schema:
    """The schema of a kind of file: the standard's keys, and ours, `says`, `names` and `or`."""
    written = {**_read("forms"), **_read(SAME.get(kind, kind))}
    return _form("file", written)


@cache
def words_of(form: str) -> tuple[str, ...]:
    """The words that a form of `forms.yaml` has the choice of."""
    return tuple(_form(form, _read("forms"))["enum"])


def walk(node: Node, schema: Schema) -> list[tuple[Node, Schema]]:
    """Every place that a schema has a form for, with that form: of several the one of its type."""
    found: list[tuple[Node, Schema]] = []
    _walk(node.document, (node.key_path, node.value), schema, found)
    return found


def _walk(
    document: Document,
    place: tuple[KeyPath, Any],
    schema: Schema,
    found: list[tuple[Node, Schema]],
) -> None:
    key_path, value = place
    if "anyOf" in schema:
        kind, branches = TYPES.get(type(value)), schema["anyOf"]
        among = {"type": [branch["type"] for branch in branches]}
        schema = next((branch for branch in branches if branch["type"] == kind), among)
    found.append((Node(document, key_path, value), schema))
    if isinstance(value, dict):
        known, others = schema.get("properties", {}), schema.get("additionalProperties")
        for key, each in value.items():
            if form := known.get(key, others):
                _walk(document, ((*key_path, key), each), form, found)
    elif isinstance(value, list) and "items" in schema:
        for number, each in enumerate(value):
            _walk(document, ((*key_path, number), each), schema["items"], found)


@cache
def _read(name: str) -> Mapping[str, Any]:
    document = read_file(HERE / f"{name}.yaml", f"schemas/{name}.yaml")
    if document.problems:
        raise ValueError(str(document.problems[0]))
    return _with_comments(document)


def _with_comments(document: Document) -> Mapping[str, Any]:
    """What a file says, and beside each key the comment on it: behind its line, or above a form."""
    value, lines = deepcopy(document.value), document.text.split("\n")
    in_order = sorted(document.places.keys.items(), key=lambda key: (key[1].line, key[1].column))
    first_of_line = {mark.line: key_path for key_path, mark in reversed(in_order)}
    for line, (*above, key) in first_of_line.items():
        behind = BEHIND.search(lines[line - 1])
        block = [*takewhile(lambda each: each.startswith(SAYS), reversed(lines[: line - 1]))]
        words = [behind[1]] if behind else [each.removeprefix(SAYS) for each in reversed(block)]
        if words and (behind or not above):
            get_path(value, *above)[SAYS + key] = " ".join(words)
    return value  # type: ignore[no-any-return]


def _form(written: Any, forms: Mapping[str, Any]) -> Schema:
    """The JSON Schema of what is written for one place."""
    if isinstance(written, list):
        return {"type": "array", "items": _form(written[0], forms), "minItems": 1}
    if isinstance(written, dict):
        return _mapping(written, forms)
    if written.startswith("= "):
        words = written.removeprefix("= ").replace("{folders}", " | ".join(FOLDERS))
        return {"type": "string", "enum": words.split(" | ")}
    names = written.split(" or ")
    branches = [_described(_form(forms[name], forms), forms, name) for name in names]
    return branches[0] if len(branches) == 1 else {"anyOf": branches}


def _described(form: Schema, among: Mapping[str, Any], key: str) -> Schema:
    said = among.get(SAYS + key)
    return {**form, "description": said} if said else form


def _mapping(written: Mapping[str, Any], forms: Mapping[str, Any]) -> Schema:
    if "is" in written:
        own = {key: value for key, value in written.items() if key != "is"}
        return {**_form(written["is"], forms), **own}
    if "type" in written or not written:
        pattern = written.get("pattern", "").replace("{folders}", "|".join(FOLDERS))
        length = int(written.get("minLength", "0"))
        return {
            **written,
            **({"pattern": pattern} if pattern else {}),
            **({"minLength": length} if length else {}),
        }
    keys: dict[str, Schema] = {}
    required: list[str] = []
    others: dict[str, Any] = {"additionalProperties": False}
    for written_key, form in written.items():
        key = written_key.removesuffix("?")
        if written_key.startswith("<"):
            names = _form(written_key.strip("<>"), forms)
            others = {"propertyNames": names, "additionalProperties": _form(form, forms)}
        elif not written_key.startswith(SAYS):
            keys[key] = _described(_form(form, forms), written, written_key)
            required += [key] if key == written_key else []
    made = {"type": "object", "properties": keys, "required": required, **others}
    return made if keys else {**made, "minProperties": 1}
