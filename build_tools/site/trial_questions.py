"""Questions that can't be asked as they are written: none can be drawn, or one asks what few know.

Each template is drawn once, as a reader would get it. What the calculators then say decides.
"""

import json
import re
from collections.abc import Iterator, Mapping
from fnmatch import fnmatch
from typing import Any

from build_tools.runtime import bundle as bundles
from build_tools.runtime import practice_pack
from build_tools.sources.days import example_day
from build_tools.sources.node import Node
from build_tools.sources.passed import Passed, hash_of, hashed
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project, stem_of
from build_tools.sources.watched import Watch

SEED = "1"
CHOICE = re.compile(r"\{\w+\}")  # in the name of a figure: which of several
# What is not held, or what the instructions govern, has no value here: it was drawn and typed.
TYPED = ("instructions-govern", "not-held", "typed-by-reader")
KNOWN = {"published", "secondary", "invented", *TYPED, None}
FIX = "look at what is drawn, at 'holds' and at the slips; the page may have changed"
GIVE = "name it in 'give' and write it in the stem, or draw it and type it in 'with'"


def tried(project: Project, passed: Passed | None = None) -> list[Problem]:
    """What is wrong with the questions of a project whose files keep every rule."""
    passed = passed or Passed()
    contents = bundles.contents(project)
    day = example_day(contents, project.day).isoformat()
    made = practice_pack.make(project, day)
    packed = json.dumps({"edition": "", **contents}, ensure_ascii=False)
    watch = Watch(json.loads(packed))
    beside = hashed(json.dumps([watch.beside(), day, made["slips"], made["topics"]]))
    asked = {  # by the hash of all that a question is drawn and answered from, but figures
        passed.key(
            "question", beside, hash_of(node.document), json.dumps(made["questions"][stem])
        ): node
        for node in project.nodes("question")
        if (stem := stem_of(node.document.file)) in made["questions"]  # else its page is hidden
    }
    new = {key: node for key, node in asked.items() if not passed.holds_of(key, watch.said)}
    fresh = _fresh_packs(made, day, packed, watch) if new else iter(())
    found: list[Problem] = []
    for (key, node), pack in zip(new.items(), fresh, strict=False):
        told = [*_of_one(node, pack, project, contents["figures"])]
        if not told:
            passed.add_of(key, watch.seen, watch.said)
        found += told
    return found


def _fresh_packs(made: Mapping[str, Any], day: str, packed: str, watch: Watch) -> Iterator[Any]:
    """The questions without end: each time nothing was looked at yet, and no answer is known."""
    from calcs.bridge import Bridge  # noqa: PLC0415  calcs may be half written
    from calcs.engine.reference import Reference  # noqa: PLC0415  the same
    from calcs.practice.pack import Pack  # noqa: PLC0415  the same

    bridge, bundle = Bridge(packed), watch.over(json.loads(packed))
    while True:
        watch.seen.clear()
        bridge.reference = Reference(bundle)
        yield Pack(made["questions"], made["slips"], made["topics"], day, bridge.reply)


def _of_one(
    node: Node, pack: Any, project: Project, figures: Mapping[str, Any]
) -> Iterator[Problem]:
    from calcs.practice.draw import NotDrawn, question  # noqa: PLC0415  calcs may be half written

    name = stem_of(node.document.file)
    try:
        found = question(pack, name, SEED)
    except (NotDrawn, KeyError, StopIteration, ValueError) as problem:
        said = f"{type(problem).__name__}: {problem}" if isinstance(problem, KeyError) else problem
        yield node["stem"].problem(f"No such question can be drawn. {said}", "", FIX)
        return
    answer = found.template.get("answer", {})
    if "calculator" in answer:
        reply = pack.answers(answer["calculator"], answer["with"], found.values, whole=True)
        given = {figures.get(each, {}).get("label") for each in _given(node, project)}
        for label in sorted({*_weak(answer, reply)} - given):
            said = f"It asks for what rests on '{label}', which few can know."
            yield node["answer"].problem(said, "The stem gives such a figure.", GIVE)


def _given(node: Node, project: Project) -> Iterator[str]:
    """Figures that the stem gives: those that it names, and those in whose place one is drawn."""
    yield from (each.text for each in node["give"].items())
    yield from (each.text for each in node.each("make", ..., "figure"))
    from calcs.engine import registry  # noqa: PLC0415  calcs may be half written

    for item in registry.load(node["answer"]["calculator"].text).inputs:
        default = getattr(item, "default", None)
        if default and item.name in node["answer"]["with"]:
            pattern = CHOICE.sub("*", default)
            yield from (each for each in project.figures if fnmatch(each, pattern))


def _weak(answer: Mapping[str, Any], reply: Mapping[str, Any]) -> Iterator[str]:
    """Labels of the figures that the answer rests on and that are not known so well."""
    from calcs.practice.marking import leading  # noqa: PLC0415  calcs may be half written

    weak = [
        each["title"].split(": ", 1) for each in reply["sources"] if each["provenance"] not in KNOWN
    ]
    if "verdict" in answer:
        judged = next(each for each in reply["verdicts"] if each["name"] == answer["verdict"])
        yield from (label for label, *source in weak if "".join(source) in judged["source"])
    else:
        used = " ".join(line["symbols"] for line in leading(reply["working"], answer["output"]))
        yield from (label for label, *_ in weak if label in used)
