"""Every reading that a step or the invented visit names stands in data/visit_record.yaml."""

from collections.abc import Iterator

from build_tools.sources.naming import READING, measured_beside, missing
from build_tools.sources.parse_value import measure_in
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project


def check(project: Project) -> Iterator[Problem]:
    """Look up each name."""
    for node in project.named("reading"):
        wanted = measured_beside(project, node, "expect")
        yield from missing(project, READING, node.text, node.problem, wanted)
    for reading in project.each("scenario", "readings", ...):
        wanted = measure_in(reading["value"].text)
        yield from missing(project, READING, reading.key, reading.problem, wanted)
    for reading in project.each("scenario", "forms", ..., "readings", ...):
        wanted = measure_in(reading.text)
        yield from missing(project, READING, reading.key, reading.problem, wanted)
