"""The project's own files as the rules and the bundle see them: read once, named from the root."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from fnmatch import fnmatch
from functools import cache, cached_property
from pathlib import Path
from typing import Any

from build_tools.declared import Declared, from_registry
from build_tools.read_yaml import Document, Way, read_file, read_text

ROOT = Path(__file__).resolve().parent.parent

# What kind of file each is, by its place. The first pattern that fits counts.
KINDS = {
    "limits": "data/limits/*.yaml",
    "gases": "data/gases.yaml",
    "table": "data/tables/*.yaml",
    "instruments": "data/instruments.yaml",
    "sources": "data/sources.yaml",
    "scenario": "data/scenario/*.yaml",
    "visit_record": "data/visit_record.yaml",
    "calculator": "content/calculators/*.yaml",
    "procedure": "content/procedures/*.yaml",
    "reference": "content/reference/*.yaml",
    "record": "content/record/*.yaml",
    "diagram": "content/diagrams/*.yaml",
    "nav": "content/_nav.yaml",
    "home": "content/_home.yaml",
    "words": "content/_words.yaml",
}


@cache
def kind_of(file: str) -> str | None:
    """The kind of a file, or nothing where no kind has that place."""
    return next((kind for kind, pattern in KINDS.items() if fnmatch(file, pattern)), None)


def stem_of(file: str) -> str:
    """`gas_rate` of `content/calculators/gas_rate.yaml`."""
    return file.rsplit("/", 1)[-1].split(".", 1)[0]


@dataclass
class Project:
    """Every YAML file of data and content, and the text of every Python file of calcs."""

    documents: dict[str, Document]
    python: dict[str, str]
    other: frozenset[str] = frozenset()  # names of further files that a rule may look for
    day: date = field(default_factory=lambda: datetime.now().astimezone().date())
    given_calculators: Mapping[str, Declared] | None = None

    def of_kind(self, *kinds: str) -> Iterator[Document]:
        """Documents of these kinds that could be read as a mapping."""
        for file, document in self.documents.items():
            if kind_of(file) in kinds and isinstance(document.value, dict):
                yield document

    def texts(self) -> Iterator[tuple[Document, Way, str]]:
        """Every text in `content/`, with its place."""
        for file, document in self.documents.items():
            if file.startswith("content/"):
                for way, text in document.texts():
                    yield document, way, text

    def one(self, kind: str) -> dict[str, Any]:
        """What the one file of a kind says; empty when it isn't there."""
        return next((document.value for document in self.of_kind(kind)), {})

    @cached_property
    def records(self) -> dict[str, Any]:
        """Every record by name. A record that isn't a mapping is left to the shape rule."""
        found: dict[str, Any] = {}
        for document in self.of_kind("limits", "gases"):
            for name, record in document.value.items():
                if isinstance(record, dict):
                    found.setdefault(name, record)
        return found

    @cached_property
    def tables(self) -> dict[str, Any]:
        """Every data table by stem."""
        return {stem_of(document.file): document.value for document in self.of_kind("table")}

    @cached_property
    def calculators(self) -> Mapping[str, Declared]:
        """What each calculator declares; nothing while calcs can't be loaded."""
        return {} if self.calcs_failure else self._declarations[0]

    @cached_property
    def calcs_failure(self) -> str:
        """Why calcs can't be loaded; empty when it can."""
        return self._declarations[1]

    @cached_property
    def _declarations(self) -> tuple[Mapping[str, Declared], str]:
        if self.given_calculators is not None:
            return self.given_calculators, ""
        try:
            return from_registry(), ""
        except Exception as failure:  # noqa: BLE001  a half-written calculator may raise anything
            return {}, f"{type(failure).__name__}: {failure}"

    @cached_property
    def sources(self) -> dict[str, Any]:
        """Every source by id."""
        return self.one("sources")


def load(root: Path = ROOT) -> Project:
    """Read the project at `root`."""
    files = [path for top in ("data", "content") for path in sorted((root / top).rglob("*.yaml"))]
    names = {path: path.relative_to(root).as_posix() for path in files}
    python = {
        path.relative_to(root).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted((root / "calcs").rglob("*.py"))
    }
    tables = (root / "tests" / "tables").glob("*.yaml")
    return Project(
        documents={name: read_file(path, name) for path, name in names.items()},
        python=python,
        other=frozenset(path.relative_to(root).as_posix() for path in tables),
    )


def from_texts(texts: Mapping[str, str], calculators: Mapping[str, Declared], day: date) -> Project:
    """A project given as texts, for tests: name of file to what it says."""
    yaml = {name: text for name, text in texts.items() if name.startswith(("data/", "content/"))}
    python = {name: text for name, text in texts.items() if name.startswith("calcs/")}
    return Project(
        documents={name: read_text(text, name) for name, text in sorted(yaml.items())},
        python=python,
        other=frozenset(texts.keys() - yaml.keys() - python.keys()),
        day=day,
        given_calculators=calculators,
    )


def content_hash(root: Path = ROOT) -> str:
    """A short name for exactly this data, these words and these formulas."""
    total = hashlib.sha256()
    files = [*(root / "data").rglob("*.yaml"), *(root / "content").rglob("*.yaml")]
    for path in sorted([*files, *(root / "calcs").rglob("*.py")]):
        total.update(path.relative_to(root).as_posix().encode() + b"\0")
        total.update(path.read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return total.hexdigest()[:7]
