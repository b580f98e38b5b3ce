"""Every step that a card names is there, and every line of the invented card is a field."""

from collections.abc import Iterator

from build_tools.sources.known_names import known_names
from build_tools.sources.problems import Problem, rename_fix
from build_tools.sources.project import Project, kind_of


def check(project: Project) -> Iterator[Problem]:
    """Its words would be shown nowhere."""
    steps = known_names(project)["step"]
    for node in project.named("step"):
        if node.text in steps or project.may_hold(node.text.rpartition(".")[2], "procedure"):
            continue
        if kind_of(node.document.file) == "question":
            continue  # the rule question-names says it, with the `if` that it names
        fix = rename_fix(node.text, steps, "name it as procedure.step, or delete it")
        yield node.problem(f"There is no step '{node.text}'.", "", fix)
    fields = {field["id"].text for field in project.each("card", "fields", ...)}
    for line in project.each("invented_card", "lines", ...):
        if line.key not in fields and project.are_whole("card"):
            fix = rename_fix(line.key, fields, "delete it")
            yield line.problem(f"There is no field '{line.key}' of a card.", "", fix)
