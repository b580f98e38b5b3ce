"""What a calculator's page shows: its words, its form, and its example worked by calcs itself."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from build_tools.pages import drawn_charts, resolve
from build_tools.pages.content_node import ContentNode
from build_tools.sources.problems import listing, rename_fix
from build_tools.sources.project import stem_of
from build_tools.sources.worked_example import LITERAL, as_typed

TEXTS = ("use_when", "does_not_cover", "before", "stop", "method")
DAY = "test_date"


def context(node: ContentNode, _: Sequence[ContentNode]) -> dict[str, Any]:
    """Values for the template of a calculator."""
    stem = stem_of(node.document.file)
    found = worked(node, stem, stem, whole=True)
    uses = _matching(found["show"], node) if found else []
    limits = node.page_context.limits([*uses, *node.figures()])
    sources = found["show"].get("sources", []) if found else []
    related = resolve.related(node["related"])
    titles = (
        ("work-it-out", "Work it out", True),
        ("use-when", "Use it when", node["use_when"].value),
        ("does-not-cover", "It does not cover", node["does_not_cover"].value),
        ("method", "Method", node["method"].value),
        ("limits", "Limits", limits),
        ("sources", "Sources", sources),
        ("related", "Related pages", related),
    )
    return {
        "stem": stem,
        "calculator": found,
        **{name: node[name].htmls() for name in TEXTS},
        "limits": limits,
        "sources": sources,
        "related": related,
        "contents": [(name, title) for name, title, there in titles if there],
    }


def worked(
    node: ContentNode, prefix: str, stem: str | None = None, *, whole: bool = False
) -> dict[str, Any] | None:
    """A calculator with its example, as the form's template takes it.

    A step of a procedure leaves out the charts, the working and the sources of the example: its
    page is for working by, and the reader's own are shown there all the same.
    """
    page_context = node.page_context
    stem = stem or str(node.value)
    names = [each["id"] for each in page_context.ask({"action": "list"})["list"]]
    if stem not in names or stem not in page_context.calculator_files:
        known = [name for name in names if name in page_context.calculator_files]
        node.note(
            f"There is no calculator '{stem}' with a formula and a page.",
            f"There are: {listing(known)}.",
            rename_fix(stem, known, f"add calcs/calculators/{stem}.py and its words"),
        )
        return None
    request = {"calculator": stem, "today": page_context.example_day.isoformat()}
    words = ContentNode.whole_of(page_context.calculator_files[stem], page_context, node.path)
    example = words["example"]
    named = example["given"].value or {}
    given = {name: as_typed(value, page_context.scenario) for name, value in named.items()}
    show = _reply(page_context.ask({"action": "show", **request}), "show", example, stem)
    answer = _reply(
        page_context.ask({"action": "run", "inputs": given, **request}), "answer", example, stem
    )
    if show is None or answer is None:
        return None
    # Every edit changes the edition, and no page shows it here. The day stands for the figures in
    # force, and no test was made on it.
    inputs = {name: each for name, each in answer["inputs"].items() if name != DAY or name in given}
    answer = {**answer, "edition": "", "inputs": inputs}
    if not whole:
        answer = {**answer, "charts": (), "working": [], "sources": []}
    drawn = answer.get("charts", ()) if page_context.draws_charts else ()
    title = example["title"].value
    readings = _readings(example)
    fields = [
        {**_filled(each, words), "reading": readings.get(each["name"])} for each in show["inputs"]
    ]
    return {
        "show": {**show, "inputs": fields},
        "given": given,
        "answer": {**answer, "drawn": drawn_charts.drawn(drawn)},
        "takes": {name: str(reading) for name, reading in named.items()},
        "title": f"Worked example: {title}" if title else "Worked example",
        "also": list(_also(example, stem, request)) if whole else [],
        "prefix": prefix.replace("_", "-"),
        "link": node.link(f"calculators/{stem}.html"),
    }


def _also(example: ContentNode, stem: str, request: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """What the example comes to with the readings of other forms of the invented visit."""
    page_context = example.page_context
    named = example["given"].value or {}
    for node in example["also"].nodes():
        form = page_context.scenario_forms.get(node.value, {"title": "", "readings": {}})
        other = {name: {"value": text} for name, text in form["readings"].items()}
        readings = {**page_context.scenario, **other}
        given = {name: as_typed(value, readings) for name, value in named.items()}
        asked = page_context.ask({"action": "run", "inputs": given, **request})
        if answer := _reply(asked, "answer", example, stem):
            yield {
                "title": form["title"],
                "verdicts": answer["verdicts"],
                "notes": answer["notes"],
                "changed": [
                    {"label": page_context.scenario[name]["label"], "text": text}
                    for name, text in form["readings"].items()
                    if name in named.values()
                ],
            }


def _readings(example: ContentNode) -> dict[str, Any]:
    """The reading of the visit behind each input: its name, or for a table those of each row.

    Where the example's reading only stands in for any, such as in a converter, there is none.
    """
    given = example["given"].value or {}
    any_reading = example["any_reading"].value or ()
    named = {name: _named(each) for name, each in given.items() if name not in any_reading}
    return {name: each for name, each in named.items() if each}


def _named(value: Any) -> Any:
    if isinstance(value, list):
        rows = [{key: name for key, each in row.items() if (name := _named(each))} for row in value]
        return rows if any(rows) else None
    return None if str(value).startswith(LITERAL) else str(value)


def _filled(described: dict[str, Any], words: ContentNode) -> dict[str, Any]:
    """An input, or a column of a table of rows, with the figures in its help text filled in."""
    filled = {**described, "help": words.fill(described["help"])}
    if "columns" in described:
        filled["columns"] = [_filled(each, words) for each in described["columns"]]
    return filled


def _reply(
    reply: dict[str, Any], key: str, example: ContentNode, stem: str
) -> dict[str, Any] | None:
    """What was asked for; where it was refused or failed, a problem that says why."""
    for refusal in reply.get("refused", ()):
        field = refusal.get("field")
        here = example["given"][field] if field else example
        here.note(
            f"The calculator refuses this example: {refusal['message']}",
            "An example must give an answer.",
            "name readings of the visit that fit, or correct the readings",
        )
    if failed := reply.get("failed"):
        example.note(
            f"calcs/calculators/{stem}.py fails on this example: {failed['message']}.",
            "A calculator answers or refuses.",
            f"correct the formula, or the words that it needs from {example.document.file}",
        )
    return reply.get(key)


def _matching(show: dict[str, Any], node: ContentNode) -> list[str]:
    """Figures that a calculator may look up.

    `*` in a name stands for any word between two dots. Where it stands for a choice of the form,
    such as the gas, only the choices that the form offers count.
    """
    options = {option["value"] for each in show["inputs"] for option in each.get("options") or ()}
    names = []
    for use in show.get("uses", []):
        if "*" not in use:  # most: to look through all figures takes longer than to ask for one
            names += [use] if use in node.page_context.figures else []
            continue
        pattern = re.compile(re.escape(use).replace(r"\*", r"([^.]+)"))
        found = {
            name: each for name in node.page_context.figures if (each := pattern.fullmatch(name))
        }
        chosen = [name for name, each in found.items() if options.issuperset(each.groups())]
        names += chosen or found
    return names
