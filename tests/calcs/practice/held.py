"""The questions of this project with their calculators, for the tests beside this file."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from build_tools.runtime import bundle, practice_pack
from calcs.bridge import Bridge
from calcs.practice.pack import Pack
from tests.project import project


@cache
def bridge() -> Bridge:
    """The calculators of this project."""
    return Bridge(json.dumps(bundle.make(), ensure_ascii=False))


@cache
def pack() -> Pack:
    """The questions of this project."""
    day = practice_pack.day_of(bundle.make())
    made = practice_pack.make(project(), day)
    return Pack(made["questions"], made["slips"], made["topics"], day, bridge()._reply)


@cache
def held() -> dict[str, Any]:
    """The papers of this project."""
    return practice_pack.make(project(), pack().today)["papers"]
