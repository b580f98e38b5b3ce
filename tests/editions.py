"""Both editions, made once: the one for a server and the one for a folder."""

from __future__ import annotations

import zipfile
from dataclasses import dataclass
from pathlib import Path

from tests.workers import MadeOnce

STICK = "memory stick é"  # a space and an accent, as in the paths that people have


@dataclass(frozen=True)
class Editions:
    """What `package` made, and the zip as a person unpacks it."""

    hosted: Path
    zip: Path
    folder: Path


def made(made_once: MadeOnce) -> Editions:
    out = made_once("editions", _package_and_unpack)
    [archive] = out.glob("*.zip")
    return Editions(out / "hosted", archive, out / STICK / archive.stem)


def _package_and_unpack(out: Path) -> None:
    from build_tools.site import package

    with zipfile.ZipFile(package.package(out)) as archive:
        archive.extractall(out / STICK)
