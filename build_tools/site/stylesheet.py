"""One style sheet of many: a browser asks for each file anew, and a page waits for the last."""

import re
from pathlib import Path

ENTRY = "handbook.css"
_IMPORT = re.compile(r'^@import "([^"/]+)";$', re.MULTILINE)


def sheets(folder: Path) -> list[Path]:
    """The sheets that `handbook.css` imports, in its order."""
    return [folder / name for name in _IMPORT.findall((folder / ENTRY).read_text("utf-8"))]


def joined(folder: Path) -> str:
    """What `handbook.css` stands for. All lie in one folder: an address means the same in it."""
    return "".join(sheet.read_text("utf-8") for sheet in sheets(folder))
