"""The right answer of a question is found and never typed, and what may be asked is well known."""

from collections.abc import Iterator

from build_tools.sources.days import in_force
from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project

KEY = (
    "What is right is a calculator's answer, an act of a step, a word or a figure of the handbook."
)
KNOWN = ("published", "secondary")
MAY_ASK = "Only a published figure, or one of a second hand, may be asked for."
CALCULATED = {"number", "read", "verdict"}
GIVEN = "The stem gives each figure that is not known so well."


def check(project: Project) -> Iterator[Problem]:
    """Look at the key of each question."""
    for node in project.nodes("question"):
        asks = node["asks"].text
        if asks in CALCULATED:
            yield from _calculated(node, asks)
        elif asks == "order":
            yield from _needs(node, ("order",))
        elif "pool" not in node and not any(True for _ in _rights(node)):
            yield from _needs(node, ("right",))
        for item in _rights(node):
            if "text" in item:
                fix = "name the step, the note or the word that says so"
                yield item["text"].problem("The right answer is typed here.", KEY, fix)
            if "figure" in item:
                yield from _well_known(item["figure"], project)
        for figure in node["give"].items():
            if f"{{{figure.text}}}" not in node["stem"].text:
                found = f"The stem does not give '{figure.text}'."
                yield figure.problem(found, GIVEN, f"write {{{figure.text}}} in the stem")


def _rights(node: Node) -> Iterator[Node]:
    for part in (node, *node["cases"].items()):
        right = part["right"]
        if right.value:
            yield from right.items() if isinstance(right.value, list) else [right]


def _calculated(node: Node, asks: str) -> Iterator[Problem]:
    answer = node["answer"]
    if answer.value is None:
        yield from _needs(node, ("answer",))
    elif "made" in answer:
        known = [*node["draw"].names, *node["make"].names]
        if answer["made"].text not in known:
            found = f"'{answer['made'].text}' is neither drawn nor made."
            yield answer["made"].problem(found, "", "name a figure of draw or make")
    else:
        yield from _needs(answer, ("calculator", "with"))
        yield from _needs(answer, ("verdict",) if asks == "verdict" else ("output",))


def _needs(node: Node, keys: tuple[str, ...]) -> Iterator[Problem]:
    for key in keys:
        if key not in node:
            yield node.problem(f"The key '{key}' is missing here.", KEY, f"add '{key}'", key=True)


def _well_known(node: Node, project: Project) -> Iterator[Problem]:
    dated = in_force(project.figures.get(node.text, {}).get("values", []), project.day)
    provenance = (dated or {}).get("provenance")
    if dated is not None and provenance not in KNOWN:
        found = f"'{node.text}' is {provenance}."
        yield node.problem(found, MAY_ASK, "give it in the stem and ask for something else")
