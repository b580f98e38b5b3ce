"""A copy of this project to edit and build, with what set-up fetched and nothing that was built."""

import shutil
from dataclasses import dataclass
from pathlib import Path

from build_tools.setup.paths import ROOT

SOURCES = (
    *("build_tools", "calcs", "content", "data", "tests/tables"),
    *("mkdocs.yml", "pyproject.toml", "LICENSE"),
)
FETCHED = ("build_tools/web/node_modules", ".cache/wheels")
LEFT = shutil.ignore_patterns("node_modules", "__pycache__", "bundle.json", "practice.json")


@dataclass(frozen=True)
class Edit:
    """One kind of edit: a file, words that stand in it, and what is written there."""

    kind: str
    file: str
    found: str
    written: str


def make(root: Path) -> Path:
    """Lay the copy down in a folder that is empty or not there."""
    for name in SOURCES:
        source, copy = ROOT / name, root / name
        copy.parent.mkdir(parents=True, exist_ok=True)
        if source.is_dir():
            shutil.copytree(source, copy, ignore=LEFT, dirs_exist_ok=True)
        else:
            shutil.copy2(source, copy)
    for name in FETCHED:
        copy = root / name
        copy.parent.mkdir(parents=True, exist_ok=True)
        try:
            copy.symlink_to(ROOT / name, target_is_directory=True)
        except OSError:  # Windows lets only some people make links
            shutil.copytree(ROOT / name, copy)
    return root


def edit(file: Path, found: str, written: str) -> None:
    """Write other words into a file.

    Raises:
        RuntimeError: The words to be replaced aren't there.
    """
    text = file.read_text(encoding="utf-8")
    if found not in text:
        message = f"{file.name} no longer holds '{found}', which is edited to measure."
        raise RuntimeError(message)
    file.write_text(text.replace(found, written, 1), encoding="utf-8", newline="\n")
