"""What each kind of file looks like: `schemas/` as JSON Schema, and each file walked by it.

`schemas/forms.yaml` says how they are written.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from build_tools.sources.node import Node
from build_tools.sources.page_kinds import FOLDERS
from build_tools.sources.read_yaml import read_file

Schema = Mapping[str, Any]

HERE = Path(__file__).parent / "schemas"
SAME = {"gases": "limits"}  # a kind of file that looks like another
TYPES = {str: "string", list: "array", dict: "object"}


@cache
def schema_of(kind: str) -> Schema:
    """The schema of a kind of file. `says` and `names` in it are ours; the rest is JSON Schema."""
    written = {**_read("forms"), **_read(SAME.get(kind, kind))}
    return _form(written["file"], written)


@cache
def words_of(form: str) -> tuple[str, ...]:
    """The words that a form of `forms.yaml` has the choice of."""
    return tuple(_form(form, _read("forms"))["enum"])


def walk(node: Node, schema: Schema) -> Iterator[tuple[Node, Schema]]:
    """Every place that a schema has a form for, with that form: of several the one of its type."""
    kind = TYPES.get(type(node.value))
    if "anyOf" in schema:
        branches = schema["anyOf"]
        among = {"type": [branch["type"] for branch in branches]}
        schema = next((branch for branch in branches if branch["type"] == kind), among)
    yield node, schema
    known, others = schema.get("properties", {}), schema.get("additionalProperties")
    for key in node.names:
        if form := known.get(key, others):
            yield from walk(node[key], form)
    for item in node.items() if "items" in schema else ():
        yield from walk(item, schema["items"])


@cache
def _read(name: str) -> Mapping[str, Any]:
    document = read_file(HERE / f"{name}.yaml", f"schemas/{name}.yaml")
    if document.problems:
        raise ValueError(str(document.problems[0]))
    found: Mapping[str, Any] = document.value
    return found


def _form(written: Any, forms: Mapping[str, Any]) -> Schema:
    """The JSON Schema of what is written for one place."""
    if isinstance(written, list):
        return {"type": "array", "items": _form(written[0], forms), "minItems": 1}
    if isinstance(written, dict):
        return _mapping(written, forms)
    if written.startswith("= "):
        words = written.removeprefix("= ").replace("{folders}", " | ".join(FOLDERS))
        return {"type": "string", "enum": words.split(" | ")}
    branches = [_form(forms[name], forms) for name in written.split(" or ")]
    return branches[0] if len(branches) == 1 else {"anyOf": branches}


def _mapping(written: Mapping[str, Any], forms: Mapping[str, Any]) -> Schema:
    if "is" in written:
        return {**_form(written["is"], forms), "names": written["names"]}
    if "type" in written or not written:
        pattern = written.get("pattern", "").replace("{folders}", "|".join(FOLDERS))
        length = int(written.get("minLength", "0"))
        return {
            **written,
            **({"pattern": pattern} if pattern else {}),
            **({"minLength": length} if length else {}),
        }
    keys = {key: _form(form, forms) for key, form in written.items() if not key.startswith("<")}
    made: dict[str, Any] = {
        "type": "object",
        "properties": {key.removesuffix("?"): form for key, form in keys.items()},
        "required": [key for key in keys if not key.endswith("?")],
        "additionalProperties": False,
    }
    for key in written.keys() - keys.keys():
        made |= {
            "propertyNames": _form(key.strip("<>"), forms),
            "additionalProperties": _form(written[key], forms),
        }
    return made if keys else {**made, "minProperties": 1}
