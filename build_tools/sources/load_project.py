"""Reads a project from its files, with overlays over it."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from build_tools.setup.paths import ROOT
from build_tools.sources import overlays
from build_tools.sources.filled import following
from build_tools.sources.overlays import Overlay
from build_tools.sources.project import Project, kind_of
from build_tools.sources.read_yaml import Document, not_utf_8, read_before, read_file


def load(root: Path = ROOT, layers: Sequence[Overlay] = ()) -> Project:
    """Read the project at `root`, with overlays over it."""
    folders = (root / "data", root / "content", root / "tests" / "tables")
    files = [path for folder in folders for path in sorted(folder.rglob("*.yaml"))]
    host = root / "mkdocs.yml"
    names = {path: _name(path, root) for path in (*files, *((host,) if host.is_file() else ()))}
    python, undecoded = {}, []
    for path in sorted((root / "calcs").rglob("*.py")):
        content = path.read_bytes()
        try:
            python[_name(path, root)] = content.decode("utf-8").replace("\r\n", "\n")
        except UnicodeDecodeError as error:
            undecoded.append(not_utf_8(_name(path, root), content, error))
    documents = {name: read_file(path, name) for path, name in names.items()}
    read_before.write()
    return _layered(
        documents=documents,
        layers=layers,
        python=python,
        undecoded=tuple(undecoded),
        markdown={
            _name(path, root): path.read_text("utf-8", errors="replace")
            for path in sorted((root / "content").rglob("*.md"))
        },
    )


def _layered(
    documents: dict[str, Document],
    layers: Sequence[Overlay],
    markdown: dict[str, str],
    **given: Any,
) -> Project:
    """A project of these files with those of overlays among them. The first of a place stays."""
    for layer in layers:
        documents = overlays.laid(documents, layer)
        markdown = {**markdown, **{f"{layer.name}/pages/{k}": v for k, v in layer.markdown.items()}}
    made = Project(documents, markdown=markdown, overlays=(*layers,), **given)
    for place, document in documents.items():
        if kind_of(place) in {"calculator", "procedure", "reference"}:
            documents[place] = following(document, made.figures, made.tables)
    return made


def _name(path: Path, root: Path) -> str:
    return path.relative_to(root).as_posix()
