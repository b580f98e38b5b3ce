"""The questions and papers of a project with the calculators that answer them."""

import json
from collections.abc import Mapping
from typing import Any

from build_tools.runtime import bundle as bundles
from build_tools.runtime import practice_pack
from build_tools.sources.days import example_day
from build_tools.sources.project import Project
from calcs.bridge import Bridge
from calcs.practice.pack import Pack


def packed(project: Project) -> tuple[Pack, Mapping[str, Any]]:
    """All questions, a host's among them, and the papers by id."""
    contents = bundles.contents(project)
    day = example_day(contents, project.day).isoformat()
    made = practice_pack.make(project, day)
    reply = Bridge(json.dumps({"edition": "", **contents}, ensure_ascii=False)).reply
    outcomes = made.get("outcomes", ())
    pack = Pack(made["questions"], made["slips"], made["topics"], day, reply, outcomes=outcomes)
    return pack, made["papers"]
