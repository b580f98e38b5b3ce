"""Compiles other people's modules without their docstrings, for the snapshot alone.

A frozen Python holds every module that it has imported. Nobody reads docstrings in it, and they
are a tenth of its size. Asserts stay: the code does what the shipped code does.

Usage: python -m build_tools.runtime.strip_docstrings STANDARD_LIBRARY.zip FOLDER WHEEL ...

A process of its own, because `marshal` writes a name otherwise when the process uses it elsewhere:
the same process gives the same bytes.
"""

import marshal
import struct
import sys
import zipfile
from importlib.util import MAGIC_NUMBER
from pathlib import Path

from build_tools.runtime.docstrings import without_docstrings

NO_SOURCE = 1  # a compiled file that is not compared with any source
MOMENT = (1980, 1, 1, 0, 0, 0)


def compiled(source: bytes, name: str) -> bytes:
    """A module as a compiled file."""
    code = compile(without_docstrings(source), name, "exec", dont_inherit=True, optimize=0)
    return MAGIC_NUMBER + struct.pack("<I8x", NO_SOURCE) + marshal.dumps(code)


def main(library: Path, folder: Path, *wheels: Path) -> None:
    """Put the standard library and the unpacked wheels into a folder."""
    _archive(library, folder / library.name)
    for wheel in wheels:
        _unpack(wheel, folder / "wheels")


def _archive(source: Path, target: Path) -> None:
    """Every module of a zip file, compiled, into another that is not compressed."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w") as new:
        for name in sorted(old.namelist()):
            content = old.read(name)
            if name.endswith(".py"):
                name, content = f"{name}c", compiled(content, name)  # noqa: PLW2901
            new.writestr(zipfile.ZipInfo(name, MOMENT), content)


def _unpack(wheel: Path, folder: Path) -> None:
    """Every file of a wheel, its modules compiled, into a folder."""
    with zipfile.ZipFile(wheel) as files:
        for name in files.namelist():
            target = folder / name
            target.parent.mkdir(parents=True, exist_ok=True)
            if name.endswith(".py"):
                target.with_suffix(".pyc").write_bytes(compiled(files.read(name), name))
            elif not name.endswith("/"):
                target.write_bytes(files.read(name))


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:]))
