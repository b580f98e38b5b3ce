"""Every page, section, calculator, diagram, table and instrument that a page names is there."""

from collections.abc import Iterator

from build_tools.sources.known_names import IN_ORDER, known_names
from build_tools.sources.naming import INSTRUMENT, misnamed
from build_tools.sources.node import Node
from build_tools.sources.page_kinds import NAMES, PAGE_KINDS
from build_tools.sources.problems import Problem, listing, rename_fix, slip_of
from build_tools.sources.project import Project, stem_of

# The kinds of file whose stems are such names.
STEMS = {
    "page": tuple(NAMES),
    "calculator": ("calculator",),
    "diagram": ("diagram",),
    "table": ("table",),
}
# The kinds of file that hold such names within them.
ONE_FILE = {"instrument": INSTRUMENT.files, "section": ("nav",)}
HELD = {**ONE_FILE, IN_ORDER: tuple(NAMES)}


def check(project: Project) -> Iterator[Problem]:
    """Look up each name."""
    known = known_names(project)
    for what in (*STEMS, *ONE_FILE):
        for node in project.named(what):
            alike = {name for name in known[what] if ("/" in name) == ("/" in node.text)}
            yield from _missing(node, what, alike, project)
    for section in _sections(project):
        for node in section["order"].items():
            yield from _missing(node, IN_ORDER, _stems_in(project, section), project)


def _missing(node: Node, what: str, known: set[str], project: Project) -> Iterator[Problem]:
    if node.text in known or project.may_hold(node.text, *HELD.get(what, ())):
        return
    stem = node.text.rpartition("/")[2]
    wrong = [each for kind in STEMS.get(what, ()) if (each := misnamed(project, stem, kind))]
    if what == "section":
        wrong = [*_wrong_section(node.text, project)]
    fix = rename_fix(node.text, known, f"write that {what}, or delete it")
    yield wrong[0] if wrong else node.problem(f"There is no {what} '{node.text}'.", "", fix)


def _stems_in(project: Project, section: Node) -> set[str]:
    """The pages of a section. One that can't be read, or names no section, may be of any."""
    folder = section["kind"].text
    kinds = [each.name for each in PAGE_KINDS if each.folder == folder] or [*NAMES]
    others = {each["id"].text for each in _sections(project)} - {section["id"].text}
    nodes = project.nodes(*kinds)
    elsewhere = {stem_of(node.document.file) for node in nodes if node["group"].text in others}
    return project.stems(*kinds) - elsewhere


def _sections(project: Project) -> list[Node]:
    return list(project.each("nav", "sections", ...))


def _wrong_section(name: str, project: Project) -> Iterator[Problem]:
    """A section that no page names, whose id misses one that pages name by a slip of typing."""
    users = project.files_with(name)
    ids = {each["id"].text: each["id"] for each in _sections(project)}
    wrong = slip_of(name, [each for each in ids if len(project.files_with(each)) == 1])
    if wrong is not None and len(users) > 1:
        found = f"No page names the section '{wrong}'. '{name}' is named in {listing(users, 3)}."
        yield ids[wrong].problem(found, "", f"rename it to '{name}'")
