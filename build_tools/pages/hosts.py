"""What hosts lay over the handbook, as the pages look it up. Their words stand beside its own."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from build_tools.sources import overlays
from build_tools.sources.page_kinds import NAMES
from build_tools.sources.project import Project, stem_of
from build_tools.sources.read_yaml import Document

Owned = tuple[str, Document]  # the name of a host, and a file of its overlay


class Outcome(NamedTuple):
    """An outcome of a host's curriculum, and what serves it."""

    host: str
    code: str
    says: str
    served_by: tuple[str, ...]


@dataclass(frozen=True)
class Hosts:
    """What is laid over the handbook.

    Args:
        settings: The overlay.yaml of each host, the lowest first.
        words: What hosts say on a page, by its path.
        limits: Limits of hosts' own, by the figure of the handbook that each is tighter than.
        hidden: Pages that no reader is shown.
        written: Who wrote a page that is not the handbook's own.
        outcomes: Of hosts' curricula, in the order in which they are written.
        steps: The number of each step, by `procedure.step`.
    """

    settings: tuple[Owned, ...] = ()
    words: Mapping[str, tuple[Owned, ...]] = field(default_factory=dict)
    limits: Mapping[str, tuple[Mapping[str, Any], ...]] = field(default_factory=dict)
    hidden: frozenset[str] = frozenset()
    written: Mapping[str, str] = field(default_factory=dict)
    outcomes: tuple[Outcome, ...] = ()
    steps: Mapping[str, int] = field(default_factory=dict)


def of(project: Project) -> Hosts:
    """What the overlays of a project that keeps the rules say."""
    settings = _owned(project, "overlay")
    words = (
        (str(document.value.get("of")), (host, document))
        for host, document in _owned(project, "words_of")
    )
    return Hosts(
        settings=tuple(settings),
        words=_grouped(words),
        limits=_grouped(_limits(project)),
        hidden=overlays.hidden(project.overlays),
        written={
            f"{kind.folder}/{stem_of(document.file)}.html": host
            for kind in NAMES.values()
            for host, document in _owned(project, kind.name)
            if host
        },
        outcomes=tuple(_outcomes(project)),
        steps=_steps(project),
    )


def _owned(project: Project, kind: str) -> list[Owned]:
    return [(project.host_of(document), document) for document in project.of_kind(kind)]


def _limits(project: Project) -> Iterable[tuple[str, dict[str, Any]]]:
    for host, document in _owned(project, "host_limits"):
        for name, limit in document.value.items():
            yield str(limit["tighter_than"]), {**limit, "name": name, "host": host}


def _outcomes(project: Project) -> Iterable[Outcome]:
    for host, document in _owned(project, "outcomes"):
        for each in document.value["outcomes"]:
            served = tuple(each.get("served_by", ()))
            yield Outcome(host, each["code"], each["says"], served)


def _steps(project: Project) -> dict[str, int]:
    return {
        f"{stem_of(document.file)}.{step['id']}": number
        for document in project.of_kind("procedure")
        for number, step in enumerate(document.value.get("steps", ()), start=1)
    }


def _grouped(pairs: Iterable[tuple[str, Any]]) -> dict[str, tuple[Any, ...]]:
    found: dict[str, tuple[Any, ...]] = {}
    for key, value in pairs:
        found[key] = (*found.get(key, ()), value)
    return found
