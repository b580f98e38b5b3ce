"""Every name that a text may be, by what it is the name of: rules look it up, editors offer it."""

from collections.abc import Mapping
from functools import lru_cache

from build_tools.sources.naming import FIGURE, INSTRUMENT, READING, SOURCE, VISITED, names_of
from build_tools.sources.page_kinds import NAMES
from build_tools.sources.project import Project, stem_of

FORMULAS = "calcs/calculators/"
HELD_IN_FILES = {
    "figure": FIGURE,
    "reading": READING,
    "reading of the visit": VISITED,
    "source": SOURCE,
    "instrument": INSTRUMENT,
}
IN_ORDER = "page of this section"


@lru_cache(maxsize=8)
def known_names(project: Project) -> Mapping[str, set[str]]:
    """The names that are there. `names` in `schemas/` says which of these a text is."""
    steps = {
        f"{stem_of(step.document.file)}.{step['id'].text}"
        for step in project.each("procedure", "steps", ...)
        if step["id"].text
    }
    return {
        **{what: set(names_of(project, kind)) for what, kind in HELD_IN_FILES.items()},
        **_pages(project, steps),
        "step": steps,
        "section": {each.text for each in project.each("nav", "sections", ..., "id")},
        "diagram": project.stems("diagram"),
        "table": project.stems("table"),
        "procedure": project.stems("procedure"),
        "term": {term.key for term in project.each("reference", "terms", ...)},
        "check": {each.text for each in project.each("procedure", "checks", ..., "id")},
        "slip": {slip.key for slip in project.each("slips", "said", ...)},
        "unit": {node.text for _, node, form in project.forms if form.get("names") == "unit"}
        - {""},
    }


def _pages(project: Project, steps: set[str]) -> Mapping[str, set[str]]:
    stems = {kind: project.stems(kind) for kind in NAMES}
    # Where the words of a calculator are missing, another rule says so.
    formulas = {stem_of(file) for file in project.python_files if file.startswith(FORMULAS)}
    stems["calculator"] |= formulas
    pages = {f"{NAMES[kind].folder}/{stem}" for kind, each in stems.items() for stem in each}
    folder = NAMES["procedure"].folder
    return {
        "calculator": stems["calculator"],
        "page": pages.union(*stems.values()),  # by its path; what is related, by its stem
        IN_ORDER: set().union(*stems.values()),
        "place": pages | {f"{folder}/{step.replace('.', '#')}" for step in steps},
    }
