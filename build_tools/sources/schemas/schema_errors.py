"""Turns what jsonschema finds into problems in the project's own words, at the right line."""

from collections.abc import Callable, Iterator
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError

from build_tools.sources.problems import Problem, listing, nearest, rename_fix
from build_tools.sources.read_yaml import Document, KeyPath
from build_tools.sources.schemas.forms import Schema

TYPES = {"string": "text", "array": "a list", "object": "a mapping of keys"}
QUOTE = "put quotation marks round the whole text: in braces a comma starts a new key"
EMPTY = {"string": "This is empty.", "array": "This list is empty.", "object": "This is empty."}


def schema_errors(document: Document, schema: Schema) -> Iterator[Problem]:
    """Every place where a file does not fit its schema."""
    for error in Draft202012Validator(schema).iter_errors(document.value):
        yield from _problems(document, error, tuple(error.absolute_path))


def _problems(document: Document, error: ValidationError, key_path: KeyPath) -> Iterator[Problem]:
    if error.validator == "anyOf":
        yield from _in_fitting_branch(document, error, key_path)
        return
    writer = WRITERS[error.validator]
    yield from writer(document, error, key_path)


def _in_fitting_branch(
    document: Document, error: ValidationError, key_path: KeyPath
) -> Iterator[Problem]:
    """Report only what is wrong with the branch whose type the author chose."""
    branches = error.validator_value
    kind = _type_of(error.instance)
    fitting = [number for number, branch in enumerate(branches) if branch["type"] == kind]
    if not fitting:
        wanted = " or ".join(TYPES[branch["type"]] for branch in branches)
        yield _of_other_type(document, key_path, kind, wanted)
    for inner in error.context:
        if inner.schema_path[0] in fitting:
            yield from _problems(document, inner, (*key_path, *inner.relative_path))


def _type_of(value: Any) -> str:
    return {str: "string", list: "array", dict: "object"}[type(value)]


def _of_other_type(document: Document, key_path: KeyPath, found: str, wanted: str) -> Problem:
    expected = f"It must be {wanted}."
    return document.problem(key_path, f"This is {TYPES[found]}.", expected, f"write {wanted}")


def _wrong_type(document: Document, error: ValidationError, key_path: KeyPath) -> Iterator[Problem]:
    wanted = TYPES[error.validator_value]
    if error.instance == "":
        yield document.problem(
            key_path, "This is empty.", f"It must be {wanted}.", f"write {wanted}"
        )
        return
    yield _of_other_type(document, key_path, _type_of(error.instance), wanted)


def _unknown_keys(
    document: Document, error: ValidationError, key_path: KeyPath
) -> Iterator[Problem]:
    known = list(error.schema["properties"])
    for key in error.instance:
        if key not in known:
            found, expected = f"There is no key '{key}' here.", f"There are: {listing(known, 20)}."
            fix = QUOTE if " " in key else rename_fix(key, known, f"delete '{key}'")
            yield document.problem((*key_path, key), found, expected, fix, key=True)


def _missing_key(
    document: Document, error: ValidationError, key_path: KeyPath
) -> Iterator[Problem]:
    # jsonschema gives one error for each missing key and names it only in its message.
    key = next(key for key in error.validator_value if error.message.startswith(repr(key)))
    known = error.schema.get("properties", {})
    strays = [stray for stray in error.instance if stray not in known]
    meant = [stray for stray in strays if nearest(stray, known) == key]
    found = f"The key '{key}' is missing here."
    if not meant:
        yield document.problem(key_path, found, "", f"add '{key}'", key=True)
    elif error.schema.get("additionalProperties", True):  # no other problem says that of the stray
        yield document.problem((*key_path, meant[0]), found, "", f"rename it to '{key}'", key=True)


def _wrong_word(document: Document, error: ValidationError, key_path: KeyPath) -> Iterator[Problem]:
    options = error.validator_value
    if not isinstance(error.instance, str):
        yield _of_other_type(document, key_path, _type_of(error.instance), "text")
        return
    found = f"'{error.instance}' can't stand here."
    fix = rename_fix(error.instance, options, f"write {' or '.join(options)}")
    yield document.problem(key_path, found, f"There can be: {listing(options)}.", fix)


def _wrong_form(document: Document, error: ValidationError, key_path: KeyPath) -> Iterator[Problem]:
    says = error.schema["says"]
    is_key = error.parent is None and "propertyNames" in error.schema_path
    place = (*key_path, error.instance) if is_key else key_path
    found = f"'{error.instance}' is not {says}."
    yield document.problem(place, found, "", f"write {says}", key=is_key)


def _empty(document: Document, error: ValidationError, key_path: KeyPath) -> Iterator[Problem]:
    found = EMPTY[_type_of(error.instance)]
    yield document.problem(key_path, found, "", "fill it in, or delete its key")


WRITERS: dict[Any, Callable[[Document, ValidationError, KeyPath], Iterator[Problem]]] = {
    "type": _wrong_type,
    "additionalProperties": _unknown_keys,
    "required": _missing_key,
    "enum": _wrong_word,
    "pattern": _wrong_form,
    "minLength": _empty,
    "minItems": _empty,
    "minProperties": _empty,
}
