"""Stamps of finished work. Work that was cut short has none, and is done again."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any


def fingerprint(*files: Path) -> str:
    """A short name for exactly these files, whatever the line ends that git gave them."""
    total = hashlib.sha256()
    for file in files:
        total.update(file.name.encode() + b"\0" + file.read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return total.hexdigest()[:16]


def read(stamp: Path) -> dict[str, Any]:
    """What a stamp holds; nothing when it is not there or cannot be read."""
    try:
        return dict(json.loads(stamp.read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        return {}


def holds(stamp: Path, *files: Path) -> bool:
    """Whether the work was finished on exactly these files."""
    return read(stamp) == {"files": fingerprint(*files)}


def write(stamp: Path, holds: dict[str, Any]) -> None:
    """Leave a stamp."""
    stamp.write_text(json.dumps(holds, indent=1) + "\n", encoding="utf-8")
