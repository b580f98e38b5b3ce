"""What a build is made of, as it stands: another look tells whether a file has changed."""

import os
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from build_tools.setup.paths import ROOT
from build_tools.sources.days import build_day

WATCHED = ("content", "data", "calcs", "build_tools", "mkdocs.yml")
PASSED_OVER = {"node_modules", "__pycache__", "bundle.json", "practice.json"}
Seen = frozenset[tuple[str, int, int]]  # path, moment of the last change in ns, size in bytes


def look(root: Path = ROOT, layers: Sequence[Path] = ()) -> Seen:
    """Every file and the day: the same edition is another on the next day."""
    seen = {(build_day().isoformat(), 0, 0)}
    for path in (*_files(root, WATCHED), *(path for each in layers for path in _files(each))):
        with suppress(FileNotFoundError):  # gone since it was listed
            about = path.stat()
            seen.add((str(path), about.st_mtime_ns, about.st_size))
    return frozenset(seen)


def _files(root: Path, tops: Sequence[str] = ("",)) -> Iterator[Path]:
    for top in tops:
        if (root / top).is_file():
            yield root / top
        for folder, folders, names in os.walk(root / top):
            folders[:] = [name for name in folders if _counts(name)]
            yield from (Path(folder, name) for name in names if _counts(name))


def _counts(name: str) -> bool:
    return name not in PASSED_OVER and not name.startswith(".")
