"""Overlays: what hosts lay over the handbook, each a folder of files like the project's own.

The files of an overlay are files of the project, read by the same reader and held to the same
rules. Its pages and questions stand among the handbook's own. All else has kinds of its own, which
can say no more than a host may.
"""

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fnmatch import fnmatch
from pathlib import Path
from typing import Any

from build_tools.sources.problems import Problem
from build_tools.sources.read_yaml import Document, read_file

FOLDER = "overlays"  # begins the place of each file that only an overlay may have
SETTINGS = "overlay.yaml"
# The kinds that stand in an overlay alone: its pages and questions are of kinds above.
OVERLAY_KINDS = {
    "overlay": "overlays/*/overlay.yaml",
    "words_of": "overlays/*/words/*/*.yaml",
    "table_filled": "overlays/*/tables/*.yaml",
    "figures_filled": "overlays/*/figures/*.yaml",
    "host_limits": "overlays/*/limits/*.yaml",
    "host_sources": "overlays/*/sources.yaml",
    "outcomes": "overlays/*/outcomes.yaml",
}
# Where an overlay has files of kinds above.
IN_OVERLAYS = {
    "procedure": "overlays/*/pages/procedures/*.yaml",
    "reference": "overlays/*/pages/reference/*.yaml",
    "question": "overlays/*/questions/*.yaml",
    "paper": "overlays/*/papers/*.yaml",
}
# Where a page or a question of an overlay counts as standing.
AMONG_OWN = (
    (re.compile(r"pages/(procedures|reference)/([^/]+\.yaml)"), r"content/\1/\2"),
    (re.compile(r"(questions|papers)/([^/]+\.yaml)"), r"content/\1/\2"),
)
PLACES = (
    SETTINGS, "outcomes.yaml", "sources.yaml", "words/PAGES/STEM.yaml", "tables/STEM.yaml",
    "figures/STEM.yaml", "limits/STEM.yaml", "pages/procedures/STEM.yaml",
    "pages/reference/STEM.yaml", "pages/STEM.md", "pages/NAME.png or NAME.jpg",
    "questions/STEM.yaml", "papers/STEM.yaml",
    "and the mark that overlay.yaml names",
)  # fmt: skip
TAKEN = {"build_tools", "calcs", "content", "data", "overlays", "tests"}
NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")  # of a folder: it stands in the edition's stamp
SAYS_NOTHING = {"kind", "name", "dated", "over"}  # keys that alone change nothing on any page
MARKDOWN = re.compile(r"pages/[^/]+\.md")
MARK = re.compile(r"[a-z][a-z0-9_]*\.svg")
OWN_PAGE = re.compile(r"content/((?:procedures|reference)/[^/]+)\.yaml")
DRAWN = re.compile(r"pages/.+\.svg", re.IGNORECASE)
PICTURE = re.compile(r"pages/[a-z][a-z0-9_]*\.(png|jpg)")


class NoOverlayError(Exception):
    """A folder that was named can't be an overlay. Its text says why and what to do."""


@dataclass(frozen=True)
class Overlay:
    """One overlay, as it stands in its folder.

    Args:
        name: The name of its folder.
        documents: Its YAML files, by where each counts as standing.
        markdown: Its pages in Markdown, by their names in its folder `pages`.
        marks: The text of each drawing that may be its mark, by name.
        pictures: Those of its pages in Markdown, by their names in its folder `pages`.
        problems: What stands in no place that an overlay has.
    """

    name: str
    documents: Mapping[str, Document]
    markdown: Mapping[str, str] = field(default_factory=dict)
    marks: Mapping[str, str] = field(default_factory=dict)
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()

    @property
    def place(self) -> str:
        """Where its settings count as standing."""
        return f"{FOLDER}/{self.name}/{SETTINGS}"

    @property
    def settings(self) -> Mapping[str, Any]:
        """What its overlay.yaml says; empty where that can't be read."""
        document = self.documents.get(self.place)
        return document.value if document and isinstance(document.value, dict) else {}

    @property
    def host(self) -> str:
        """The name of its host."""
        return str(self.settings.get("name") or self.name)

    @property
    def own_pages(self) -> list[str]:
        """Its pages as its settings name them: `bays` in Markdown, and `reference/bay_rules`."""
        found = (OWN_PAGE.fullmatch(place) for place in self.documents)
        written = [name.removesuffix(".md") for name in self.markdown]
        return [*written, *(place[1] for place in found if place)]

    def changes(self, beneath: str) -> bool:
        """Whether anything of it is to be seen over a handbook of this name."""
        is_more = len(self.documents) > 1 or self.markdown or self.marks or self.pictures
        return bool(is_more or self.settings.keys() - SAYS_NOTHING or self.host != beneath)

    @property
    def stamp(self) -> str:
        """`northmoor-2026-11-20-7f3c91d`: its name, its day and a name for exactly these files."""
        texts = {each.file: each.text for each in self.documents.values()}
        total = hashlib.sha256()
        for file, text in sorted({**texts, **self.markdown, **self.marks}.items()):
            total.update(f"{file}\0{text}\0".encode())
        for file, content in sorted(self.pictures.items()):
            total.update(f"{file}\0{len(content)}\0".encode() + content)
        dated = self.settings.get("dated")
        parts = (self.name, *([str(dated)] if dated else []), total.hexdigest()[:7])
        return "-".join(parts)


def read(folders: Sequence[Path]) -> list[Overlay]:
    """Read the overlays in these folders, the lowest first.

    Raises:
        NoOverlayError: A folder is not there, or has a name that can't be told from another's.
    """
    names = [folder.resolve().name for folder in folders]
    for folder, name in zip(folders, names, strict=True):
        if not (folder / SETTINGS).is_file():
            raise NoOverlayError(
                f"{folder.resolve()} is no overlay: it holds no {SETTINGS}.\n"
                "Fix: name the folder that holds it, or begin one with 'new overlay STEM'."
            )
        if name in TAKEN or not NAME.fullmatch(name) or names.count(name) > 1:
            raise NoOverlayError(
                f"An overlay can't stand in a folder called '{name}'.\n"
                "Fix: give each overlay a folder with a name of its own, such as northmoor, "
                "of letters, digits, - and _."
            )
    return [_read(folder, name) for folder, name in zip(folders, names, strict=True)]


def _read(folder: Path, name: str) -> Overlay:
    paths = sorted(path for path in folder.rglob("*") if _counts(path.relative_to(folder)))
    files = {path.relative_to(folder).as_posix(): path for path in paths}
    yaml = {
        file: read_file(path, f"{name}/{file}")
        for file, path in files.items()
        if path.suffix in {".yaml", ".yml"}
    }
    others = {
        file: path.read_text("utf-8", errors="replace")
        for file, path in files.items()
        if MARKDOWN.fullmatch(file) or MARK.fullmatch(file)
    }
    pictures = {file: path.read_bytes() for file, path in files.items() if PICTURE.fullmatch(file)}
    strays = [file for file in files if file not in {*yaml, *others, *pictures}]
    return _made(name, yaml, others, strays, pictures)


def _counts(relative: Path) -> bool:
    """What begins with a dot is an editor's or a system's, and a README is for who looks in."""
    is_hidden = any(part.startswith(".") for part in relative.parts)
    return not is_hidden and "." in relative.name and relative.name != "README.md"


def _made(
    name: str,
    yaml: Mapping[str, Document],
    others: Mapping[str, str],
    strays: Iterable[str],
    pictures: Mapping[str, bytes],
) -> Overlay:
    documents = {}
    for file, document in yaml.items():
        place = place_of(name, file)
        documents[place] = replace(document, at=place)
    return Overlay(
        name,
        documents,
        {f.removeprefix("pages/"): text for f, text in others.items() if f.endswith(".md")},
        {f: text for f, text in others.items() if f.endswith(".svg")},
        {f.removeprefix("pages/"): content for f, content in pictures.items()},
        tuple(_stray(name, file) for file in strays),
    )


def place_of(name: str, file: str) -> str:
    """Where a file of an overlay counts as standing.

    Args:
        name: Of the overlay.
        file: Its name within the overlay.
    """
    for pattern, place in AMONG_OWN:
        if pattern.fullmatch(file):
            return pattern.sub(place, file)
    return f"{FOLDER}/{name}/{file}"


def _stray(name: str, file: str) -> Problem:
    if DRAWN.fullmatch(file):
        found, expected = "A drawing can hold a script, and no page shows one.", ""
        fix = "save it as PNG, in a file of small letters, digits and _"
        return Problem(f"{name}/{file}", 1, 1, "", found, expected, fix)
    return no_place(f"{name}/{file}")


def no_place(file: str) -> Problem:
    """What is told of a file in a place that an overlay does not have."""
    expected = f"An overlay holds: {', '.join(PLACES)}."
    found = "No kind of file has this place in an overlay."
    return Problem(file, 1, 1, "", found, expected, "move it to one of these, or delete it")


def kind_of(place: str) -> str | None:
    """The kind of a file that stands in an overlay alone; nothing where no kind has its place."""
    depth = place.count("/")
    known = ((k, p) for k, p in OVERLAY_KINDS.items() if p.count("/") == depth)
    return next((kind for kind, pattern in known if fnmatch(place, pattern)), None)


def laid(documents: Mapping[str, Document], layer: Overlay) -> dict[str, Document]:
    """These files with those of an overlay behind them. What is there stays."""
    return {**documents, **{k: v for k, v in layer.documents.items() if k not in documents}}


def hidden(layers: Iterable[Overlay]) -> frozenset[str]:
    """Pages that hosts leave out: `calculators/injector`."""
    listed = (layer.settings.get("hide") for layer in layers)
    found = (page for pages in listed if isinstance(pages, list) for page in pages)
    return frozenset(page for page in found if isinstance(page, str))
