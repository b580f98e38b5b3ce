"""What the page of a class's results and the command `results` ask."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from calcs.practice import class_count, class_told, handed_in, papers
from calcs.practice.pack import Pack

Papers = Mapping[str, Any]


def reply(request: Mapping[str, Any], held: Papers, pack: Pack) -> dict[str, Any]:
    """Reply to one request about a class.

    Args:
        request: `about`: `class_read` reads all `files`, of a `paper` and a `seed` or of any.
            `class_count` counts some of what that gives under `sat`, and is given what it had
            counted `so_far`; `class_told` puts what was `counted` in order, in words.
        held: The papers of this edition, by id.
        pack: What they are made from.

    Returns:
        `{"practice": …}`, or `{"refused": […]}`.
    """
    try:
        return {"practice": ABOUT[str(request["about"])](request, held, pack)}
    except papers.NotASeed as problem:
        return {"refused": [{"field": "seed", "kind": "unknown", "message": str(problem)}]}


def _read(request: Mapping[str, Any], held: Papers, _: Pack) -> dict[str, Any]:
    seed = str(request.get("seed") or "")
    of = (str(request.get("paper") or ""), papers.seed_of(seed) if seed else "")
    return handed_in.read(request["files"], held, *of)


def _count(request: Mapping[str, Any], held: Papers, pack: Pack) -> dict[str, Any]:
    paper = held[request["paper"]]
    found, problems = class_count.count(request["sat"], paper, pack, request.get("so_far"))
    return {"counted": found, "problems": problems}


def _told(request: Mapping[str, Any], held: Papers, pack: Pack) -> dict[str, Any]:
    name = str(request["paper"])
    return class_told.told(name, held[name], request["counted"], pack)


ABOUT: Mapping[str, Callable[[Mapping[str, Any], Papers, Pack], Any]] = {
    "class_read": _read,
    "class_count": _count,
    "class_told": _told,
}
