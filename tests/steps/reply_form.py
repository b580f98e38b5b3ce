"""The form of a reply of the steps' outcomes, as a JSON Schema."""

from __future__ import annotations

import jsonschema

STATES = ("within", "outside", "too_close", "not_judged", "waiting", "refused")
TEXT = {"type": "string"}
LINE = {
    "type": "object",
    "required": [
        *("state", "reading", "label", "text", "held_to"),
        *("act", "reason", "missing", "scale", "own", "figures", "verdicts"),
    ],
    "additionalProperties": False,
    "properties": {
        "state": {"enum": list(STATES)},
        "reading": {"type": "string", "minLength": 1},
        "label": {"type": "string", "minLength": 1},
        "text": TEXT,
        "held_to": {
            "anyOf": [
                {"type": "null"},
                {
                    "type": "object",
                    "required": ["text", "source"],
                    "additionalProperties": False,
                    "properties": {"text": {"type": "string", "minLength": 1}, "source": TEXT},
                },
            ]
        },
        "act": TEXT,
        "reason": TEXT,
        "missing": {"type": "array", "items": TEXT},
        "scale": {"type": ["object", "null"]},
        "own": {"type": ["object", "null"]},
        "figures": {"type": "array", "items": {"type": "object", "required": ["name", "text"]}},
        "verdicts": {"type": "array", "items": {"type": "object", "required": ["outcome"]}},
        "ahead": {
            "type": "object",
            "required": ["text", "takes", "passing", "reading", "value", "elapsed"],
            "additionalProperties": {"type": "string", "minLength": 1},
        },
    },
}


REPLY = {
    "oneOf": [
        {
            "type": "object",
            "required": ["outcomes"],
            "additionalProperties": False,
            "properties": {"outcomes": {"type": "object", "additionalProperties": LINE}},
        },
        {
            "type": "object",
            "required": ["refused"],
            "additionalProperties": False,
            "properties": {"refused": {"type": "array", "minItems": 1}},
        },
    ]
}


FORM = jsonschema.Draft202012Validator(REPLY)
