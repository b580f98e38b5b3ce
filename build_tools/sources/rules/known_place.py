"""Every YAML file stands where a kind of file belongs."""

from collections.abc import Iterator

from build_tools.sources import overlays
from build_tools.sources.problems import Problem, nearest
from build_tools.sources.project import KINDS, Project, kind_of

LOOKS_AT = "each file"


def check(project: Project) -> Iterator[Problem]:
    """A file in a place that no kind has would be left out of the handbook without a word."""
    places = sorted(place for place in KINDS.values() if place.startswith(("content/", "data/")))
    folders = {place.rsplit("/", 1)[0] for place in places}
    for file, document in project.documents.items():
        if kind_of(file) is None and file.startswith(f"{overlays.FOLDER}/"):
            yield overlays.no_place(document.file)
        elif kind_of(file) is None:
            folder = file.rsplit("/", 1)[0]
            close = nearest(folder, folders - {folder})
            fix = f"move it to {close}" if close else "move it to one of these, or delete it"
            expected = f"Files stand in: {', '.join(places)}."
            yield Problem(file, 1, 1, "", "No kind of file has this place.", expected, fix)
