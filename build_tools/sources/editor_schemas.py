"""What an editor checks and completes by: each kind of file as JSON Schema, with all its names.

It is made of the shapes and the names that the rules go by. An editor takes `365` for a number,
`true` for a truth value and nothing for null before it looks at a shape, where our reader keeps
text. So these are let in wherever such a text is.
"""

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from build_tools.sources.known_names import known_names
from build_tools.sources.overlays import IN_OVERLAYS, OVERLAY_KINDS
from build_tools.sources.project import KINDS, Project
from build_tools.sources.schema import Schema, schema_of

FOLDER = ".cache/schemas"
DRAFT = "http://json-schema.org/draft-07/schema#"  # the one that every editor knows
OUR_OWN = ("says", "names", "or")
# What an editor makes of a text, and texts of that kind.
TAKEN_FOR = {"number": ["1" * length for length in range(1, 9)], "boolean": ["true"], "null": [""]}
NO_TEXT = re.compile(r"true|false|[1-9][0-9]*")  # words that an editor makes something else of
ANY_OVERLAY = "overlays/*/"


def editor_schemas(project: Project) -> Mapping[str, Schema]:
    """The schema of each kind of file, by the name of the file that it is kept in."""
    known = known_names(project)
    return {
        f"{FOLDER}/{kind}.json": {"$schema": DRAFT, "title": kind, **_place(schema_of(kind), known)}
        for kind in (*KINDS, *OVERLAY_KINDS)
    }


def editor_settings(layers: Sequence[Path] = ()) -> Mapping[str, Any]:
    """Which files each schema is for, as language servers for YAML take it.

    Args:
        layers: Folders of overlays, which may lie anywhere.
    """
    places = {kind: [place] for kind, place in KINDS.items()}
    for kind, place in {**OVERLAY_KINDS, **IN_OVERLAYS}.items():
        inside = place.removeprefix(ANY_OVERLAY)
        anywhere = [f"{folder.resolve().as_posix()}/{inside}" for folder in layers]
        places[kind] = [*places.get(kind, ()), place, *anywhere]
    return {"yaml.schemas": {f"./{FOLDER}/{kind}.json": each for kind, each in places.items()}}


def _place(form: Schema, known: Mapping[str, set[str]]) -> Schema:
    """The form of one place, with all below it."""
    if form.get("type") == "string":
        about = {"description": form["description"]} if "description" in form else {}
        return {**about, **_text(form, known)}
    made = {key: value for key, value in form.items() if key not in OUR_OWN}
    for key in ("items", "additionalProperties", "propertyNames"):
        if form.get(key):
            made[key] = _place(form[key], known)
    if "properties" in form:
        made["properties"] = {key: _place(each, known) for key, each in form["properties"].items()}
    if "anyOf" in form:
        made["anyOf"] = [_place(each, known) for each in form["anyOf"]]
    return made


def _text(form: Schema, known: Mapping[str, set[str]]) -> Schema:
    if "enum" in form:
        return _one_of(form["enum"])
    if "names" not in form:
        return _any_text(form)
    names = sorted(known[form["names"]])
    offered = _one_of(name for name in names if re.search(form.get("pattern", ""), name))
    if "or" not in form:
        return offered
    return {"anyOf": [offered, _any_text({**form, "pattern": form["or"]})]}


def _one_of(words: Iterable[str]) -> Schema:
    listed = list(words)
    return {"enum": [*listed, *(json.loads(word) for word in listed if NO_TEXT.fullmatch(word))]}


def _any_text(form: Schema) -> Schema:
    pattern, least = form.get("pattern", ""), form.get("minLength", 0)
    fits = [
        kind
        for kind, texts in TAKEN_FOR.items()
        if any(re.search(pattern, text) and len(text) >= least for text in texts)
    ]
    made: dict[str, Any] = {"type": ["string", *fits]}
    if least:
        made["minLength"] = least
    if pattern:
        made["pattern"] = pattern
    if "says" in form:
        made["patternErrorMessage"] = f"Write {form['says']}."
    return made
