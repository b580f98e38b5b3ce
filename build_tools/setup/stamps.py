"""Marks of finished work.

One is taken away before the work and written after it, so that work cut short has none and is
done again.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any, Iterable


def fingerprint(files: Iterable[Path], *also: str) -> str:
    """A short name for exactly these files, whatever the line ends that git gave them."""
    total = hashlib.sha256(repr(also).encode())
    for file in files:
        total.update(file.name.encode() + b"\0")
        total.update(file.read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return total.hexdigest()[:16]


def read(mark: Path) -> dict[str, Any]:
    """What a mark says; nothing when it is not there or cannot be read."""
    try:
        said = json.loads(mark.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return said if isinstance(said, dict) else {}


def write(mark: Path, said: dict[str, Any]) -> None:
    """Leave a mark."""
    mark.parent.mkdir(parents=True, exist_ok=True)
    mark.write_text(json.dumps(said, indent=1) + "\n", encoding="utf-8")


def remove(mark: Path) -> None:
    """Take a mark away, if it or its folder is there at all."""
    try:
        mark.unlink()
    except (FileNotFoundError, NotADirectoryError):
        return
