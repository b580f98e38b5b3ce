"""A figure's name begins with its file's name, and no two figures share a name."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project, kind_of, stem_of


def check(project: Project) -> Iterator[Problem]:
    """So that a reader of a name knows which file to open."""
    seen: dict[str, str] = {}
    for figure in project.each(("limits", "gases"), ...):
        file, name = figure.document.file, figure.key
        subject = "gas" if kind_of(file) == "gases" else stem_of(file)
        if not name.startswith(f"{subject}."):
            found = f"The name '{name}' does not begin with '{subject}.'."
            fix = f"rename it to '{subject}.{name.rsplit('.', 1)[-1]}', or move it"
            yield figure.problem(found, "", fix, key=True)
        if name in seen:
            found = f"The figure '{name}' is in {seen[name]} too."
            yield figure.problem(found, "", "keep one of them", key=True)
        seen.setdefault(name, file)
