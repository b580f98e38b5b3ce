"""What a build is made of, as it stands: another look tells whether a file has changed."""

import os
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from itertools import chain
from pathlib import Path

from build_tools.setup.paths import ROOT
from build_tools.sources.days import build_day

WATCHED = ("content", "data", "calcs", "build_tools", "mkdocs.yml")
PASSED_OVER = {"node_modules", "__pycache__", "bundle.json", "practice.json"}
Seen = frozenset[tuple[str, int, int]]  # path, moment of the last change in ns, size in bytes


def look(root: Path = ROOT, layers: Sequence[Path] = ()) -> Seen:
    """Every file and the day: the same edition is another on the next day."""
    seen = {(build_day().isoformat(), 0, 0)}
    tops = [entry for entry in _entries(root) if entry.name in WATCHED]
    for entry in chain(_files(tops), *(_files(_entries(layer)) for layer in layers)):
        with suppress(FileNotFoundError):  # gone since it was listed
            about = entry.stat()
            seen.add((entry.path, about.st_mtime_ns, about.st_size))
    return frozenset(seen)


def _files(entries: Iterable[os.DirEntry[str]]) -> Iterator[os.DirEntry[str]]:
    for entry in entries:
        if entry.is_dir(follow_symlinks=False):
            yield from _files(_entries(entry))
        else:
            yield entry


def _entries(folder: Path | os.DirEntry[str]) -> list[os.DirEntry[str]]:
    """What a folder holds, but for what is made or hidden; nothing of one that has gone."""
    try:
        with os.scandir(folder) as entries:
            return [each for each in entries if _counts(each.name)]
    except FileNotFoundError:
        return []


def _counts(name: str) -> bool:
    return name not in PASSED_OVER and not name.startswith(".")
