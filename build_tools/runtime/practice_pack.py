"""Packs the questions for the engine in `calcs/practice/`: templates with the handbook's own words.

The browser's Python starts without them: `practice_program.py` has what their page brings.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from build_tools.runtime.cache import write_whole
from build_tools.sources import overlays
from build_tools.sources.days import example_day
from build_tools.sources.load_project import load
from build_tools.sources.page_kinds import NAMES, step_anchor
from build_tools.sources.practice_texts import Texts, Unknown
from build_tools.sources.project import Project, stem_of

NAME = "practice.json"
PROCEDURES = "procedures/"  # whose steps have reasons
FIGURE = re.compile(r"\{([a-z_]+(?:\.[A-Za-z0-9_]+)+)\}")
KEPT = (
    *("title", "asks", "safety", "draw", "make", "show", "holds", "drawn", "live", "answer"),
    *("slips", "near", "give", "by_figures"),
)


def make(project: Project, day: str) -> dict[str, Any]:
    """Every question and paper, as the engine takes them.

    Args:
        project: All files.
        day: The day whose limits count, of the edition.

    Raises:
        Unknown: A question names what is not there: the rules tell of it with its place.
    """
    texts = Texts(project)
    said = project.one("slips").get("said", {})
    hidden = overlays.hidden(project.overlays)
    found = {
        stem_of(document.file): question(shown, texts)
        for document in project.of_kind("question")
        if (shown := _over(document.value, hidden)) is not None
    }
    topics = {one["topic"] for one in found.values()}
    place = {page: number for number, page in enumerate(in_visit_order(project))}
    ordered = sorted(topics, key=lambda topic: (place.get(topic, len(place)), topic))
    titles = {topic: title_of(project, topic) for topic in ordered}
    papers = {stem_of(each.file): paper(each.value) for each in project.of_kind("paper")}
    held = {"topics": titles, "questions": found, "papers": papers}
    slips = {name: each["did"] for name, each in said.items()}
    instead = {name: each["instead"] for name, each in said.items()}
    outcomes = [*_outcomes(project, found)]
    of_hosts = {"outcomes": outcomes} if outcomes else {}
    return {"today": day, **held, "slips": slips, "instead": instead, **of_hosts}


def _outcomes(project: Project, questions: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """The outcomes of hosts' curricula, each with the questions that serve it.

    A question serves what it is named for, and what its page or a step that it is read at serves.
    """
    reads = {
        stem_of(document.file): {document.value["topic"], *document.value["read"]}
        for document in project.of_kind("question")
    }
    for document in project.of_kind("outcomes"):
        for each in document.value["outcomes"]:
            served = {*each.get("served_by", ())}
            asked = [
                name for name in questions if f"questions/{name}" in served or reads[name] & served
            ]
            of = {"code": each["code"], "says": each["says"], "host": project.host_of(document)}
            yield {**of, "questions": asked}


def in_visit_order(project: Project) -> Iterator[str]:
    """Each page that is in a section of the menu: `procedures/gas_rate`."""
    grouped: dict[tuple[str, Any], list[str]] = {}
    for document in project.of_kind(*NAMES):
        page = f"{NAMES[document.value['kind']].folder}/{stem_of(document.file)}"
        key = (page.partition("/")[0], document.value.get("group"))
        grouped.setdefault(key, []).append(page)
    for section in project.one("nav").get("sections", ()):
        held = sorted(grouped.get((section["kind"], section["id"]), ()))
        first = [f"{section['kind']}/{stem}" for stem in section.get("order", ())]
        yield from dict.fromkeys([*(each for each in first if each in held), *held])


def paper(written: Mapping[str, Any]) -> dict[str, Any]:
    """What the engine takes of a paper."""
    return {key: value for key, value in written.items() if key != "kind"}


def _over(template: Mapping[str, Any], hidden: frozenset[str]) -> Mapping[str, Any] | None:
    """A template without the pages that a host hides; none where it is about such a page."""
    read = [each for each in template["read"] if each.partition("#")[0] not in hidden]
    return {**template, "read": read} if read and template["topic"] not in hidden else None


def question(template: Mapping[str, Any], texts: Texts) -> dict[str, Any]:
    """One template, with the words of whatever it names in their place."""
    made = {key: template[key] for key in KEPT if key in template}
    made["topic"] = template["topic"]
    if "make" in template:
        made["make"] = {name: _made(how, texts) for name, how in template["make"].items()}
    made["stem"] = _filled(template["stem"], texts)
    if "right" in template:
        made["right"] = _items(template["right"], texts)
    if "lures" in template:
        made["lures"] = _items(template["lures"], texts)
    if "cases" in template:
        made["cases"] = [_case(each, texts) for each in template["cases"]]
    if "pool" in template:
        made["pool"] = _pool(template["pool"], texts)
    if "order" in template:
        made["order"] = _order(template["order"], texts)
    if "why" in template:
        made["why"] = _filled(template["why"], texts)
        _without_reasons(made, template)
    else:
        made["why"] = _why(template, texts)
    made["read"] = [_place(each, texts) for each in template["read"]]
    return made


def _without_reasons(made: Mapping[str, Any], template: Mapping[str, Any]) -> None:
    """A question that has a reason of its own is told with that, and not with a step's."""
    for part, written in zip(made.get("cases", ()), template.get("cases", ()), strict=True):
        if "why" not in written:
            part.pop("why", None)
    for part in (made, *made.get("cases", ())):
        right = part.get("right", ())
        for item in right if isinstance(right, list) else [right]:
            if item:
                item.pop("why", None)


def _made(how: Mapping[str, Any], texts: Texts) -> Mapping[str, Any]:
    """What a figure is made of: one in force is there with its value."""
    return {"figure": texts.figure(how["figure"])} if "figure" in how else how


def _filled(text: str, texts: Texts) -> str:
    """A text with the figures in force that it names."""
    if not FIGURE.search(text):
        return text
    from calcs.practice.figures import shown  # noqa: PLC0415  calcs may be half written

    return FIGURE.sub(lambda found: shown(texts.figure(found[1]), {}), text)


def _items(given: Any, texts: Texts) -> Any:
    if isinstance(given, list):
        return [_item(each, texts) for each in given]
    return _item(given, texts)


def _item(given: Mapping[str, Any], texts: Texts) -> dict[str, Any]:
    made = texts.item(given)
    if "figure" in given:
        from calcs.practice.figures import shown  # noqa: PLC0415  calcs may be half written

        return {**made, "text": shown(made["text"], {})}
    return {**made, "text": _filled(made["text"], texts)}


def _case(given: Mapping[str, Any], texts: Texts) -> dict[str, Any]:
    made = {key: given[key] for key in ("outcome", "holds", "drawn") if key in given}
    made |= {key: _filled(given[key], texts) for key in ("say", "stem", "why") if key in given}
    made |= {key: _items(given[key], texts) for key in ("right", "lures") if key in given}
    if "listed" in given:
        acts = [_filled(texts.step(name)["do"], texts) for name in given["listed"]]
        made["say"] = " ".join(f"({number}) {act}" for number, act in enumerate(acts, start=1))
    right = made.get("right", {})
    one = right[0] if isinstance(right, list) else right
    if "when" in one:  # the case is the `if` of that step
        made.setdefault("say", one["when"])
    if "why" in one:
        made.setdefault("why", one["why"])
    return made


def _pool(given: Mapping[str, Any], texts: Texts) -> dict[str, Any]:
    near = {"near": int(given["near"])} if "near" in given else {}
    return {**near, "items": list(_pool_items(given, texts))}


def _pool_items(given: Mapping[str, Any], texts: Texts) -> Iterator[dict[str, Any]]:
    if "next" in given:
        steps = texts.procedures[given["next"]]["steps"]
        for before, step in zip([None, *steps], steps, strict=False):
            said = {"say": before["do"]} if before else {}
            yield _said({"text": step["do"], "why": step["why"], **said}, texts)
    for name in given.get("why", ()):
        step = texts.step(name)
        yield _said({"text": step["why"], "say": step["do"]}, texts)
    for name in given.get("ifs", ()):
        step = texts.step(name)
        for branch in step.get("if", ()):
            said = {"text": branch["do"], "say": branch["when"], "why": step["why"]}
            yield _said(said, texts)
    for term in given.get("terms", ()):
        yield {**texts.item({"term": term}), "say": term}


def _said(item: Mapping[str, Any], texts: Texts) -> dict[str, Any]:
    """The same with the figures in force that its texts name."""
    return {
        key: _filled(value, texts) if isinstance(value, str) else value
        for key, value in item.items()
    }


def _order(given: Mapping[str, Any], texts: Texts) -> dict[str, Any]:
    if "section" in given:
        return _stages(given, texts)
    stem = given["procedure"]
    steps = [
        _said({"id": each, "text": texts.step(f"{stem}.{each}")["do"]}, texts)
        for each in given["steps"]
    ]
    pairs = [
        {**each, "why": texts.step(f"{stem}.{each.get('why', each['first'])}")["why"]}
        for each in given["pairs"]
    ]
    return {"steps": steps, "pairs": pairs}


def _stages(given: Mapping[str, Any], texts: Texts) -> dict[str, Any]:
    """Stages of which each waits for the one before it, as the page has them."""
    points = texts.points(given["section"])
    heads = [each for each in points if each in given["points"]]
    if len(heads) != len(given["points"]):
        raise Unknown("point", ", ".join({*given["points"]} - {*heads}), list(points))
    steps = [{"id": each.lower().replace(" ", "_"), "text": each} for each in heads]
    ids = [each["id"] for each in steps]
    pairs = [
        {"first": first, "then": then, "why": f"{head}: {points[head]}"}
        for first, then, head in zip(ids, ids[1:], heads[1:], strict=False)
    ]
    return {"steps": steps, "pairs": pairs}


def _why(template: Mapping[str, Any], texts: Texts) -> str:
    """The reason of the first step that is to be read."""
    steps = [each for each in template["read"] if "#" in each and each.startswith(PROCEDURES)]
    return str(texts.step(step_of(steps[0]))["why"]) if steps else ""


def step_of(place: str) -> str:
    """`gas_rate.stop_it` of `procedures/gas_rate#stop_it`."""
    page, _, step = place.partition("#")
    return f"{page.rpartition('/')[2]}.{step}"


def _place(place: str, texts: Texts) -> dict[str, str]:
    page, _, step = place.partition("#")
    # As pages/reference.py names the anchor of a section.
    anchor = step_anchor(step) if page.startswith(PROCEDURES) else step.replace("_", "-")
    title = title_of(texts.project, page)
    return {"page": f"{page}.html#{anchor}" if step else f"{page}.html", "title": title}


def title_of(project: Project, page: str) -> str:
    """Title of a page.

    Raises:
        Unknown: There is no such page.
    """
    document = project.documents.get(f"content/{page}.yaml")
    if document is None or not isinstance(document.value, dict):
        raise Unknown("page", page)
    return str(document.value["title"])


def write(bundle: Path) -> Path:
    """Write the questions beside a bundle, where `python -m calcs practice` looks for them."""
    held = json.loads(bundle.read_text(encoding="utf-8"))
    return write_made(make(load(bundle.parent.parent), day_of(held)), bundle)


def write_made(made: Mapping[str, Any], bundle: Path) -> Path:
    """Write questions that were made beside the bundle that they go with."""
    text = json.dumps(made, ensure_ascii=False, indent=1) + "\n"
    return write_whole(bundle.with_name(NAME), text)


def day_of(bundle: Mapping[str, Any]) -> str:
    """The day whose limits the questions go by: that of the worked examples, for their reason."""
    return example_day(bundle, date.fromisoformat(bundle["edition"].split()[0])).isoformat()
