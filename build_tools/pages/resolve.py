"""Names that a file gives, turned into what a page shows of them."""

from typing import Any

from markupsafe import Markup

from build_tools.diagrams.draw import draw
from build_tools.diagrams.given import DrawingProblem
from build_tools.pages.content_node import Part
from build_tools.pages.page_context import Limit, Shelf
from calcs.engine.units import unit_text

KINDS = {
    "procedures": "Procedure",
    "calculators": "Calculator",
    "reference": "Reference",
    "record": "Record",
}


def limits(part: Part) -> list[Limit]:
    """The limits whose figures are named here."""
    shelf = part.shelf
    named = [each for each in part.parts() if each.known(each.value, shelf.figures, "figure")]
    return [shelf.limit(each.value) for each in named]


def sources(part: Part) -> list[dict[str, Any]]:
    """The sources named here, each with the place in it."""
    found = []
    for each in part.parts():
        name = each["id"].value
        if each["id"].known(name, part.shelf.sources, "source"):
            title = part.shelf.sources[name]["title"]
            found.append({"id": name, "title": title, "where": each["where"].text()})
    return found


def related(part: Part) -> list[dict[str, str]]:
    """Links to the pages of the stems named here. One stem may have a page of each kind."""
    found = []
    stems = dict.fromkeys(path.rsplit("/", 1)[-1] for path in part.shelf.pages)
    for each in part.parts():
        if not each.known(each.value, stems, "page"):
            continue
        for path, title in part.shelf.pages.items():
            kind, _, stem = path.partition("/")
            if stem == each.value and f"{path}.html" != part.path:
                link = part.link(f"{path}.html")
                found.append({"title": title, "kind": KINDS.get(kind, ""), "link": link})
    return found


def reading(part: Part) -> dict[str, Any]:
    """A reading of the visit record: what to write down, and its unit or what can be chosen."""
    name = part.value
    if not part.known(name, part.shelf.visit_record, "reading in data/visit_record.yaml"):
        return {"name": name, "label": name, "unit": "", "unit_code": "", "options": []}
    entry = part.shelf.visit_record[name]
    unit = entry.get("unit", "")
    return {
        "name": name,
        "label": entry["label"],
        "unit": unit_text(unit),
        "unit_code": unit,
        "options": entry.get("options", []),
    }


def reading_or_text(part: Part) -> dict[str, Any]:
    """A line of the record: a reading by its name, or a sentence about what else to write."""
    if part.value in part.shelf.visit_record:
        return reading(part)
    return {"name": None, "label": part.text(), "unit": ""}


def diagram(part: Part, prefix: str) -> dict[str, Any] | None:
    """A drawing with its title; none where none is named or it can't be drawn."""
    shelf = part.shelf
    if part.value is None:
        return None
    has_params = isinstance(part.value, dict)
    given = part.value if has_params else {"id": part.value}
    place = part["id"] if has_params else part
    if not place.known(given.get("id"), shelf.diagrams, "diagram"):
        return None
    words = shelf.diagrams[given["id"]]
    params = {**words.get("params", {}), **{k: v for k, v in given.items() if k != "id"}}
    try:
        svg = _drawn(words, params, prefix, shelf)
    except DrawingProblem as problem:
        part.problem(problem.found, problem.expected, problem.fix)
        return None
    key = f"{words['draw']} {sorted(params.items())}"
    drawing = Markup(svg)  # noqa: S704  # ElementTree wrote it, and escapes what it writes
    caption = part.fill(words.get("caption", ""))
    return {"svg": drawing, "title": words["title"], "caption": caption, "key": key}


def _drawn(words: dict[str, Any], params: dict[str, Any], prefix: str, shelf: Shelf) -> str:
    return draw(
        words["draw"],
        params,
        figures=shelf.figures,
        readings=shelf.scenario,
        tables=shelf.bundle["tables"],
        day=shelf.day,
        prefix=prefix,
        title=words["title"],
        alt=words.get("alt", ""),
    )
