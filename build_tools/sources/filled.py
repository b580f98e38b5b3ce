"""What hosts fill in of what the handbook does not hold, and the words that follow from it.

A figure or a table that was not held is held then, with a provenance that only a fill can have. So
pages, calculators, verdicts and the record find it where they find any other.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from build_tools.sources.node import Node
from build_tools.sources.problems import Problem
from build_tools.sources.read_yaml import Document, get_path

FILLS = ("table_filled", "figures_filled")  # kinds of file
NOT_HELD, HOST_COPY, INVENTED = "not-held", "host-copy", "invented"


class Fill(NamedTuple):
    """One figure or table that a host fills in.

    Args:
        name: Of the figure or the table.
        node: What is said of it.
        key: Where in it the filling stands: `value` or `rows`.
        host: Who says it.
    """

    name: str
    node: Node
    key: str
    host: str


def open_value(holder: Any, fill: Fill) -> int | None:
    """Which dated value of a figure or a table it fills: the newest not held of that source."""
    source = fill.node["source"]["id"].text
    values = get_path(holder, "values")
    fitting = [
        place
        for place, each in enumerate(values if isinstance(values, list) else ())
        if get_path(each, "provenance") == NOT_HELD and get_path(each, "source", "id") == source
    ]
    return fitting[-1] if fitting else None


def filled(held: Mapping[str, Any], fills: Iterable[Fill]) -> dict[str, Any]:
    """Figures or tables with what hosts fill in. What fits nothing is left to the rules."""
    found = dict(held)
    for fill in fills:
        place = open_value(found.get(fill.name), fill)
        given = fill.node[fill.key].value
        if place is not None and given:
            holder = found[fill.name]
            values = [*holder["values"]]
            values[place] = {**values[place], **_held(fill, given)}
            found[fill.name] = {**holder, "values": values}
    return found


def _held(fill: Fill, given: Any) -> dict[str, Any]:
    node = fill.node
    is_invented = node["invented"].text == "yes"
    note = f"Filled in by {fill.host}, read on {node['read_on'].text}"
    note += f", checked by {node['checked_by'].text}."
    return {
        fill.key: given,
        "provenance": INVENTED if is_invented else HOST_COPY,
        "source": node["source"].value,
        "note": f"Invented, to show how it is done. {note}" if is_invented else note,
    }


def is_held(name: str, *held: Mapping[str, Any]) -> bool:
    """Whether the newest dated value of a figure or a table says something."""
    values = next((get_path(each, name, "values") for each in held if name in each), None)
    newest = values[-1] if isinstance(values, list) and values else None
    return isinstance(newest, dict) and ("value" in newest or "rows" in newest)


def following(document: Document, *held: Mapping[str, Any]) -> Document:
    """A page whose words say that something is not held, once it is: they say something else.

    `when_held` of the page gives the sentences.
    """
    whole = Node(document, (), document.value)
    entries = whole["when_held"].items()
    true = [each for each in entries if _are_held(each["names"].items(), held)]
    if not true:
        return document
    changes = [(each["instead_of"].text, each["say"].text) for each in true]
    left = {
        "not_held": [e.text for e in whole["not_held"].items() if not is_held(e.text, *held)],
        "when_held": [each.value for each in entries if each not in true],
    }
    said = {
        key: left[key] if key in left else _said(part, changes)
        for key, part in document.value.items()
    }
    return replace(document, value={key: part for key, part in said.items() if part})


def _are_held(names: list[Node], held: tuple[Mapping[str, Any], ...]) -> bool:
    return bool(names) and all(is_held(name.text, *held) for name in names)


def _said(part: Any, changes: list[tuple[str, str]]) -> Any:
    if isinstance(part, str):
        for before, after in changes:
            part = part.replace(before, after).strip() if before else part
        return part
    if isinstance(part, dict):
        return {key: _said(each, changes) for key, each in part.items()}
    return [_said(each, changes) for each in part] if isinstance(part, list) else part


def fills_of(document: Document, kind: str, host: str) -> Iterator[Fill]:
    """What a file of an overlay fills in."""
    whole = Node(document, (), document.value)
    if kind == "table_filled":
        yield Fill(whole["of"].text, whole, "rows", host)
    elif kind == "figures_filled":
        yield from (Fill(name, whole[name], "value", host) for name in whole.names)


def invented_figures(project: Any) -> Iterator[Problem]:
    """Each figure of a host's that is marked as invented: none may be handed out by mistake."""
    for kinds in ("table_filled", "figures_filled", "host_limits"):
        for whole in project.nodes(kinds):
            for node in whole.below():
                if node["invented"].text == "yes":
                    found = "This figure is invented."
                    fix = "write the figure of your own copy, or add --with-invented for a trial"
                    yield node["invented"].problem(found, "None is handed out.", fix, key=True)
