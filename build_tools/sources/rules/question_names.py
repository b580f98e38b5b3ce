"""Every step, word, reason and slip that a question names is there, and its order is the page's."""

from collections.abc import Iterator
from typing import Any

from build_tools.sources.node import Node
from build_tools.sources.practice_texts import Texts, Unknown
from build_tools.sources.problems import Problem, rename_fix
from build_tools.sources.project import Project

GONE = "A question follows the page that it asks about, so a changed page changes its question."
IN_WORDS = "Slips stand in content/_slips.yaml."
LITERAL = "="  # before a word that stands there itself
IN_ORDER = "The procedure itself has its steps in an order that keeps each pair."


def check(project: Project) -> Iterator[Problem]:
    """Look up what each question names."""
    if not project.are_whole("procedure", "calculator", "reference", "slips"):
        return  # else what is there can't be told
    texts = Texts(project)
    for node in project.nodes("question"):
        for item in _items(node):
            yield from _looked_up(item, texts.item)
        for name in (*node.each("pool", "why", ...), *node.each("pool", "ifs", ...)):
            yield from _looked_up(name, texts.step)
        for term in node.each("pool", "terms", ...):
            yield from _looked_up(term, lambda value: texts.item({"term": value}))
        for name in node.each("make", ..., "figure"):
            yield from _looked_up(name, texts.figure)
        yield from _drawn(node)
        yield from _checks(node, texts)
        yield from _listed(node, texts)
        yield from _points(node["order"], texts)
        yield from _procedures(node, texts)
        yield from _places(node, texts, project)
        yield from _slips(node, project)


def _items(node: Node) -> Iterator[Node]:
    for part in (node, *node["cases"].items()):
        right = part["right"]
        yield from right.items() if isinstance(right.value, list) else [right]
        yield from part["lures"].items()


def _looked_up(node: Node, look: Any) -> Iterator[Problem]:
    if not node.value:
        return
    try:
        look(node.value)
    except Unknown as unknown:
        name = str(unknown).partition("'")[2].rpartition("'")[0]
        fix = rename_fix(name, unknown.known, "name one that is there, or take the question out")
        yield node.problem(str(unknown), GONE, fix)


def _checks(node: Node, texts: Texts) -> Iterator[Problem]:
    """What the table of checks asks for at the visit of a case, and what it does not."""
    for part in node["cases"].items():
        for name in texts.misplaced(part.value) if part["visit"].is_mapping else ():
            found = f"The table of checks says otherwise of '{name}' at that visit."
            yield part["visit"].problem(found, GONE, "put it among right or among lures")


def _listed(node: Node, texts: Texts) -> Iterator[Problem]:
    """A list of steps that leaves out one: the page must have that one there and no other."""
    for part in node["cases"].items():
        names = part["listed"].items()
        for name in names:
            yield from _looked_up(name, texts.step)
        known = [*texts.steps]
        places = [known.index(each.text) for each in names if each.text in known]
        if names and len(places) == len(names):
            among = known[min(places) : max(places) + 1]
            left = [each for each in among if each not in [name.text for name in names]]
            if places != sorted(places) or left != [part["right"]["step"].text]:
                found = f"The page has {', '.join(left) or 'no other step'} between those listed."
                yield part["listed"].problem(found, GONE, "list all of them but the right one")


def _points(order: Node, texts: Texts) -> Iterator[Problem]:
    """The stages of a section that are put in order."""
    if order["section"].value:
        yield from _looked_up(order["section"], texts.points)
        known = texts.sections.get(order["section"].text, {}).get("points", [])
        heads = [str(each).partition(": ")[0] for each in known]
        for each in order["points"].items():
            if each.text not in heads:
                fix = rename_fix(each.text, heads, "name one that is there, or take it out")
                yield each.problem(f"There is no point '{each.text}'.", GONE, fix)


def _procedures(node: Node, texts: Texts) -> Iterator[Problem]:
    """The procedures whose steps are asked for as a whole."""
    for name in (node["pool"]["next"], node["order"]["procedure"]):
        if name.text and name.text not in texts.procedures:
            fix = rename_fix(name.text, texts.procedures, "name one that is there")
            yield name.problem(f"There is no procedure '{name.text}'.", GONE, fix)
            return
    stem = node["order"]["procedure"].text
    steps = [each.partition(".")[2] for each in texts.steps if each.startswith(f"{stem}.")]
    for each in node["order"]["steps"].items():
        yield from _looked_up(each, lambda value: texts.step(f"{stem}.{value}"))
    for pair in node["order"]["pairs"].items():
        first, then = pair["first"].text, pair["then"].text
        if {first, then} <= {*steps} and steps.index(first) > steps.index(then):
            found = f"The page has '{then}' before '{first}'."
            yield pair.problem(found, IN_ORDER, "turn the pair round, or take it out")
        shown = node["order"]["steps"].value or []
        for each in (pair["first"], pair["then"]):
            if each.text and each.text not in shown:
                fix = rename_fix(each.text, shown, "list it, or take the pair out")
                yield each.problem(f"'{each.text}' is not among the steps.", "", fix)


def _drawn(node: Node) -> Iterator[Problem]:
    """What stands behind the parts of an instrument."""
    known = [*node["draw"].names, *node["make"].names]
    for part in (node, *node["cases"].items()):
        for instrument in (*part["drawn"].items(), part["live"]):
            for name in (each for each in instrument.names if each != "instrument"):
                behind = instrument[name].text
                if not behind.startswith(LITERAL) and behind not in known:
                    found = f"'{behind}' is neither drawn nor made."
                    fix = rename_fix(
                        behind, known, "name a figure of draw or make, or write = first"
                    )
                    yield instrument[name].problem(found, "", fix)


def _places(node: Node, texts: Texts, project: Project) -> Iterator[Problem]:
    """Pages to read, and their steps."""
    for place in node["read"].items():
        page, _, step = place.text.partition("#")
        if f"content/{page}.yaml" not in project.documents:
            yield place.problem(f"There is no page '{page}'.", GONE, "name one that is there")
        elif step and page.startswith("procedures/"):
            stem = page.rpartition("/")[2]
            yield from _looked_up(place, lambda _, name=f"{stem}.{step}": texts.step(name))


def _slips(node: Node, project: Project) -> Iterator[Problem]:
    said = project.one("slips").get("said", {})
    named = [each["slip"] if each.is_mapping else each for each in node["slips"].items()]
    named += [item["slip"] for item in _items(node)]
    for slip in named:
        if slip.text and slip.text not in said:
            fix = rename_fix(
                slip.text, said, "add it there, with what was done and what to do instead"
            )
            yield slip.problem(f"No slip is called '{slip.text}'.", IN_WORDS, fix)
