"""A machine as set-up may find it: small programs, and no browser."""

import os
import stat
from pathlib import Path

import pytest

from build_tools.setup import chromium

needs_posix = pytest.mark.skipif(os.name == "nt", reason="a program has to be an .exe there")


def program(path: Path, prints: str, *, status: int = 0) -> Path:
    """A small program, for this system."""
    path.parent.mkdir(parents=True, exist_ok=True)
    if os.name == "nt":
        path = path.with_suffix(".cmd")
        path.write_text(f"@echo {prints}\n@exit {status}\n")
    else:
        path.write_text(f"#!/bin/sh\necho '{prints}'\nexit {status}\n")
        path.chmod(path.stat().st_mode | stat.S_IXUSR)
    return path


def no_browser(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine without one: nothing on PATH, at home or in the usual places."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("HB_CHROMIUM", raising=False)
    monkeypatch.delenv("PLAYWRIGHT_BROWSERS_PATH", raising=False)
    at_home = tuple(place for place in chromium.PLACES if not place.startswith("/"))
    monkeypatch.setattr(chromium, "PLACES", at_home)
