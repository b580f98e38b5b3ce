"""What files said when they were last read: to read YAML anew takes twenty times as long.

Only what was read whole and without a fault is kept, by the hash of its bytes and of the reader.
"""

import hashlib
import json
import sys
from contextlib import suppress
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Any

from build_tools.setup.paths import CACHE

FILE = CACHE / "read_before.txt"
MOST = 3000  # files, those last asked for


class ReadBefore:
    """The trees of files by their bytes.

    Args:
        file: Where they are kept: a hash of all that follows, then a line for each file.
        reader: What reads: its code, and the release of what it leans on.
    """

    def __init__(self, file: Path, reader: bytes) -> None:
        self._file = file
        self._reader = hashlib.sha256(sys.version.encode() + reader)
        self._known: dict[str, str] | None = None  # as JSON: whoever asks gets a tree of their own
        self._is_new = False

    def get(self, content: bytes) -> Any:
        """The tree of a file with this content; nothing where it was never read."""
        key, known = self._key(content), self._all()
        tree = known.pop(key, None)
        if tree is None:
            return None
        known[key] = tree  # behind the others: it was asked for
        return json.loads(tree)

    def add(self, content: bytes, tree: Any) -> None:
        """Keep the tree of a file."""
        self._all()[self._key(content)] = json.dumps(tree)
        self._is_new = True

    def write(self) -> None:
        """Keep them for the next run, if that can be: without, it only takes longer."""
        if not self._is_new:
            return
        self._is_new = False
        kept = [*self._all().items()][-MOST:]
        lines = "".join(f"\n{key} {tree}" for key, tree in kept).encode("ascii")
        with suppress(OSError):
            self._file.parent.mkdir(parents=True, exist_ok=True)
            with NamedTemporaryFile(dir=self._file.parent, delete=False) as unfinished:
                unfinished.write(_hash(lines) + lines)
            Path(unfinished.name).replace(self._file)

    def _key(self, content: bytes) -> str:
        total = self._reader.copy()
        total.update(content)
        return total.hexdigest()

    def _all(self) -> dict[str, str]:
        if self._known is None:
            self._known = self._read()
        return self._known

    def _read(self) -> dict[str, str]:
        """What was kept. A file that is not as it was written counts for nothing."""
        with suppress(OSError):
            first, newline, rest = self._file.read_bytes().partition(b"\n")
            if _hash(newline + rest) == first:
                lines = rest.decode("ascii").splitlines()
                return {key: tree for key, _, tree in (line.partition(" ") for line in lines)}
        return {}


def _hash(lines: bytes) -> bytes:
    return hashlib.sha256(lines).hexdigest().encode("ascii")
