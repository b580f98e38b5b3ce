"""An overlay says whose it is, can be read in any display, and leaves what others need."""

from collections.abc import Iterator

from build_tools.sources import accent, mark, overlays
from build_tools.sources.days import parse_day
from build_tools.sources.node import Node
from build_tools.sources.overlays import Overlay
from build_tools.sources.problems import Problem, nearest, rename_fix
from build_tools.sources.project import Project, kind_of
from build_tools.sources.read_yaml import dotted

CAN_BE_HIDDEN = ("calculator", "reference")
OWN_PAGES = "The handbook's own pages keep their places."
PAGES_OF = "A reader is always shown the way to what keeps people safe."


def check(project: Project) -> Iterator[Problem]:
    """Look at each overlay.yaml and at where the files of overlays stand."""
    for overlay in project.overlays:
        yield from overlay.problems
        yield from _taken(overlay, project)
    for whole in project.nodes("overlay"):
        yield from _look(whole["look"], _overlay_of(whole, project))
        yield from _over(whole["over"]["base"], project)
        yield from _dated(whole["dated"], project)
        yield from _sections(whole, _overlay_of(whole, project))
        for page in whole["hide"].items():
            yield from _hidden(page, project)


def _overlay_of(whole: Node, project: Project) -> Overlay | None:
    place = whole.document.place
    return next((each for each in project.overlays if place in each.documents), None)


def _taken(overlay: Overlay, project: Project) -> Iterator[Problem]:
    """Files that would take the place of a page or a question beneath them."""
    for place, document in overlay.documents.items():
        there = project.documents[place]
        if there.file != document.file:
            found = f"{there.file} is there already, and no overlay may take its place."
            fix = "give this file another name"
            if place.startswith("content/procedures/"):
                fix += ", or add words to that page under words/procedures/"
            yield Problem(document.file, 1, 1, "", found, "", fix)


def _look(look: Node, overlay: Overlay | None) -> Iterator[Problem]:
    name, marks = look["mark"].text, overlay.marks if overlay else {}
    if name and name in marks:
        for found, expected, fix in mark.faults(marks[name]):
            yield look["mark"].problem(found, expected, f"in {name}, {fix}")
    elif overlays.MARK.fullmatch(name):
        close = nearest(name, marks)
        fix = f"rename it to '{close}'" if close else f"put {name} beside overlay.yaml"
        yield look["mark"].problem(f"There is no drawing '{name}' in the overlay.", "", fix)
    for key in accent.MEETS:
        colour = look[key].text
        found = accent.fault(key, colour) if accent.COLOUR.fullmatch(colour) else ""
        if found:
            fix = "take a darker one" if key == "accent" else "take a lighter one"
            yield look[key].problem(found, accent.EXPECTED, fix)


def _sections(whole: Node, overlay: Overlay | None) -> Iterator[Problem]:
    """Parts of the menu hold pages of the host's own, each once."""
    own = overlay.own_pages if overlay else ()
    seen: set[str] = set()
    for page in whole.each("sections", ..., "pages", ...):
        if page.text and page.text not in own:
            found = f"There is no page '{page.text}' of your own."
            fix = rename_fix(page.text, own, "write that page, or delete it")
            yield page.problem(found, OWN_PAGES, fix)
        elif page.text in seen:
            yield page.problem(f"'{page.text}' stands in two places.", "", "keep one of them")
        seen.add(page.text)


def _over(base: Node, project: Project) -> Iterator[Problem]:
    if (day := parse_day(base.text)) is not None and day > project.day:
        found = f"It was made for an edition of {base.text}, and today is {project.day}."
        yield base.problem(found, "", "lay it over a newer handbook, or write its day")


def _dated(dated: Node, project: Project) -> Iterator[Problem]:
    if (day := parse_day(dated.text)) is not None and day > project.day:
        yield dated.problem("That day is still to come.", "", "write the day of your last change")


def _hidden(page: Node, project: Project) -> Iterator[Problem]:
    document = project.documents.get(f"content/{page.text}.yaml")
    if document is None:
        return  # another rule says so
    kind = kind_of(document.place)
    whole = Node(document, (), document.value)
    stops = (each for each in project.each("home", "stop_page") if each.text == page.text)
    if (stop := next(stops, None)) is not None:
        found = f"'{page.text}' can't be hidden: {stop.document.file} sends a reader to it."
        yield page.problem(found, PAGES_OF, "delete it")
    elif kind not in CAN_BE_HIDDEN or "generate" in whole:
        found = f"'{page.text}' can't be hidden."
        expected = "A host hides calculators and reference pages, but no list of all that is held."
        yield page.problem(found, expected, "delete it")
    elif needed := _needs(page.text, project):
        found = f"'{page.text}' can't be hidden: {needed.document.file} needs it"
        found += f", in {dotted(needed.key_path)}."
        yield page.problem(found, "", "delete it, or hide that page too")


def _needs(path: str, project: Project) -> Node | None:
    """A place of a page that is shown which can't do without this one."""
    hidden = {each.text for each in project.each("overlay", "hide", ...)}
    named = [*project.named("page")]
    if path.startswith("calculators/"):
        stem = path.partition("/")[2]
        named += [each for each in project.named("calculator") if each.text == stem]
    for node in named:
        place = node.document.place
        kind = kind_of(place)
        own = place.removeprefix("content/").removesuffix(".yaml")
        if kind in {"question", "overlay", "words_of", "proof"} or "related" in node.key_path:
            continue
        if own in hidden or own == path:
            continue
        if node.text in {path, path.partition("/")[2]}:
            return node
    return None
