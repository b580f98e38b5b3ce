"""Keys stand in the order of their kind, so that every file reads alike."""

from collections.abc import Iterator
from typing import Any

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project, kind_of
from build_tools.sources.read_yaml import Document, KeyPath
from build_tools.sources.rule import Rule
from build_tools.sources.schemas.by_kind import SCHEMAS, Schema


def check(project: Project) -> Iterator[Problem]:
    """Compare each mapping with the order of the keys in its schema."""
    for document in project.documents.values():
        kind = kind_of(document.file)
        if kind is not None:
            yield from _in_value(document, document.value, SCHEMAS[kind], ())


def _in_value(
    document: Document, value: Any, schema: Schema, key_path: KeyPath
) -> Iterator[Problem]:
    if "anyOf" in schema:
        name = {dict: "object", list: "array"}.get(type(value), "string")
        fitting = (branch for branch in schema["anyOf"] if branch["type"] == name)
        schema = next(fitting, {})
    if isinstance(value, dict):
        known = schema.get("properties", {})
        yield from _in_order(
            document, [key for key in value if key in known], list(known), key_path
        )
        for key, inner in value.items():
            under = known.get(key, schema.get("additionalProperties") or {})
            yield from _in_value(document, inner, under, (*key_path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _in_value(document, inner, schema.get("items", {}), (*key_path, number))


def _in_order(
    document: Document, keys: list[str], order: list[str], key_path: KeyPath
) -> Iterator[Problem]:
    latest = ""
    for key in keys:
        if latest and order.index(key) < order.index(latest):
            after = [each for each in keys if order.index(each) > order.index(key)]
            first = min(after, key=order.index)
            found = f"'{key}' stands after '{latest}'."
            expected = f"The order is: {', '.join(each for each in order if each in keys)}."
            fix = f"move it up, in front of '{first}'"
            yield document.problem((*key_path, key), found, expected, fix, key=True)
        else:
            latest = key


RULE = Rule("key-order", "Keys stand in the order of their kind.", check)
