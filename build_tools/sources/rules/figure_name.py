"""A figure's name begins with its file's name, and no two figures share a name."""

from collections.abc import Iterator

from build_tools.sources.problems import Problem
from build_tools.sources.project import Project, kind_of, stem_of
from build_tools.sources.rule import Rule


def check(project: Project) -> Iterator[Problem]:
    """So that a reader of a name knows which file to open."""
    seen: dict[str, str] = {}
    for document in project.of_kind("limits", "gases"):
        subject = "gas" if kind_of(document.file) == "gases" else stem_of(document.file)
        for name in document.value:
            if not name.startswith(f"{subject}."):
                found = f"The name '{name}' does not begin with '{subject}.'."
                fix = f"rename it to '{subject}.{name.rsplit('.', 1)[-1]}', or move it"
                yield document.problem((name,), found, "", fix, key=True)
            if name in seen:
                found = f"The figure '{name}' is in {seen[name]} too."
                yield document.problem((name,), found, "", "keep one of them", key=True)
            seen.setdefault(name, document.file)


RULE = Rule("figure-name", "A figure's name begins with its file's name.", check)
