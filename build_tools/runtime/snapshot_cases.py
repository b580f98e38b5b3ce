"""What the runtime is asked before it is frozen, with what CPython answers.

Whatever a request makes Python import or compile is then in the snapshot. The replies are
compared digit for digit, so a build stops where the browser's Python would answer otherwise.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from build_tools.sources.load_project import load
from build_tools.sources.project import Project
from build_tools.sources.worked_example import examples
from calcs.bridge import Bridge


def cases(bundle: Mapping[str, Any], day: date) -> list[tuple[str, str]]:
    """Requests as JSON, each with CPython's reply."""
    bridge = Bridge(json.dumps(bundle, ensure_ascii=False))
    asked = requests(bridge, day)
    return [*zip(asked, replies(bridge, asked), strict=True)]


def requests(bridge: Bridge, day: date) -> list[str]:
    """All requests as JSON.

    Args:
        bridge: The calculators over their figures and words.
        day: The day on which all are asked.
    """
    return [json.dumps(each, ensure_ascii=False) for each in _requests(bridge, load(), day)]


def replies(bridge: Bridge, requests: Sequence[str]) -> list[str]:
    """What CPython answers to each."""
    return [bridge.answer(each) for each in requests]


def _requests(bridge: Bridge, project: Project, day: date) -> Iterator[dict[str, Any]]:
    """The list; of each calculator its form, its example and a refusal; a visit as a whole."""
    yield {"action": "list"}
    known = examples(project)
    for listed in json.loads(bridge.answer('{"action": "list"}'))["list"]:
        about = {"calculator": listed["id"], "today": day.isoformat()}
        yield {"action": "show", **about}
        if listed["id"] in known:
            yield {"action": "run", "inputs": known[listed["id"]], **about}
        yield {"action": "run", "inputs": {}, **about}
    yield {"action": "cross_check", "readings": _visit(project), "today": day.isoformat()}


def _visit(project: Project) -> dict[str, dict[str, str]]:
    """What was read of one burner at the invented visit, which reads another kind beside it."""
    others = project.one("cross_check_visit")["told_by"]["premix"]
    readings = project.one("scenario")["readings"].items()
    parts = {name: each["value"].partition(" ") for name, each in readings if name not in others}
    return {name: {"value": value, "unit": unit} for name, (value, _, unit) in parts.items()}
