"""The few forms that schemas are made of. Each gives a JSON Schema for text-only YAML.

`says` in a schema is what the project tells an author who wrote something else.
"""

from collections.abc import Mapping
from typing import Any

from build_tools.sources.days import UNDATED

Schema = dict[str, Any]

TEXT: Schema = {"type": "string", "minLength": 1}
CELL: Schema = {"type": "string"}  # a cell of a table may be empty


def pattern(regular: str, says: str) -> Schema:
    """Text of one form, and that form in words."""
    return {"type": "string", "pattern": regular, "says": says}


def one_of(*options: str) -> Schema:
    """One of a few words."""
    return {"enum": list(options)}


def mapping(keys: Mapping[str, Schema]) -> Schema:
    """A mapping with these keys in this order. A key that ends in `?` may be left out."""
    return {
        "type": "object",
        "properties": {name.removesuffix("?"): schema for name, schema in keys.items()},
        "required": [name for name in keys if not name.endswith("?")],
        "additionalProperties": False,
    }


def named(values: Schema, names: Schema) -> Schema:
    """A mapping whose keys are names that the author chooses."""
    return {
        "type": "object",
        "minProperties": 1,
        "propertyNames": names,
        "additionalProperties": values,
    }


def listing(item: Schema) -> Schema:
    """A list with at least one item."""
    return {"type": "array", "items": item, "minItems": 1}


def either(*schemas: Schema) -> Schema:
    """One of several schemas that differ in type: text, list or mapping."""
    return {"anyOf": list(schemas)}


NAME = pattern(r"^[a-z][a-z0-9_]*$", "a name in small letters, such as gas_rate")
DOTTED = pattern(
    r"^[a-z][a-z0-9_]*(\.[A-Za-z0-9][A-Za-z0-9_]*)+$",
    "a name with dots, such as burner_pressure.tolerance",
)
DAY = pattern(r"^\d{4}-\d{2}-\d{2}$", "a day, such as 2026-10-01")
# Practice has no first day: an entry may say so, and then no page claims one.
FIRST_DAY = pattern(
    rf"^(\d{{4}}-\d{{2}}-\d{{2}}|{UNDATED})$", "a day, such as 2026-10-01, or undated"
)
TEXTS = listing(TEXT)
TEXT_OR_TEXTS = either(TEXT, TEXTS)
CITE = mapping({"id": NAME, "where": TEXT})
# From firm ground to none, as a reader would ask for them.
PROVENANCES = (
    "published",
    "secondary",
    "common-practice",
    "from-memory",
    "instructions-govern",
    "not-held",
    "invented",
)
PROVENANCE = one_of(*PROVENANCES)
