"""What the runtime is asked before it is frozen, with what CPython answers.

Whatever a request makes Python import or compile is then in the snapshot. The replies are
compared digit for digit, so a build stops where the browser's Python would answer otherwise.
"""

import json
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from build_tools.sources.project import load, stem_of
from calcs.bridge import Bridge

LITERAL = "="  # `=index` in an example is the choice itself; any other text names a reading


def cases(bundle: Mapping[str, Any], day: date) -> list[tuple[str, str]]:
    """Requests as JSON, each with CPython's reply."""
    bridge = Bridge(json.dumps(bundle, ensure_ascii=False))
    texts = [json.dumps(request, ensure_ascii=False) for request in _requests(bridge, day)]
    return [(text, bridge.answer(text)) for text in texts]


def _requests(bridge: Bridge, day: date) -> Iterator[dict[str, Any]]:
    """The list; and of each calculator its form, its worked example, and a refusal."""
    yield {"action": "list"}
    examples = _examples()
    for listed in json.loads(bridge.answer('{"action": "list"}'))["list"]:
        about = {"calculator": listed["id"], "today": day.isoformat()}
        yield {"action": "show", **about}
        if listed["id"] in examples:
            yield {"action": "run", "inputs": examples[listed["id"]], **about}
        yield {"action": "run", "inputs": {}, **about}


def _examples() -> dict[str, dict[str, Any]]:
    """The inputs of each worked example, by calculator."""
    project = load()
    readings = project.one("scenario").get("readings", {})
    return {
        stem_of(document.file): {
            name: _given(value, readings)
            for name, value in document.value.get("example", {}).get("given", {}).items()
        }
        for document in project.of_kind("calculator")
    }


def _given(value: Any, readings: Mapping[str, Any]) -> dict[str, Any]:
    """One input. A name that no reading has is left empty: the page's own check reports it."""
    if isinstance(value, list):
        return {"rows": [{key: _given(row[key], readings) for key in row} for row in value]}
    if str(value).startswith(LITERAL):
        return {"value": str(value)[len(LITERAL) :]}
    return {"value": readings.get(value, {}).get("value", "")}
