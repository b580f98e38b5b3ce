"""What was worked out from a text before, so that a build after an edit does only the edit's work.

A text that did not change gives what it gave. What is kept lies in `.cache/remembered/`, by the
hash of the text and of the file that works on it; what a build did not ask for is dropped.
"""

import hashlib
import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from build_tools.project import ROOT

PLACE = ROOT / ".cache" / "remembered"
Work = Callable[[str], Any]  # from a text to what JSON can hold


@contextmanager
def remembering(work: Work, maker: str, place: Path = PLACE) -> Iterator[Work]:
    """The same work, done once for each text.

    Args:
        work: What is done with a text. It depends on the text and on its own file, no more.
        maker: The file that holds the work: `__file__` of its module.
        place: Folder of what is kept.
    """
    file = place / f"{Path(maker).stem}.json"
    version = hashlib.sha256(Path(maker).read_bytes()).hexdigest()
    before, asked = _read(file), dict[str, Any]()

    def remembered(text: str) -> Any:
        key = hashlib.sha256(f"{version}\0{text}".encode()).hexdigest()
        if key not in asked:
            asked[key] = before[key] if key in before else work(text)
        return asked[key]

    yield remembered
    if asked != before:
        _write(file, asked)


def _read(file: Path) -> dict[str, Any]:
    """What is kept; nothing where there is none, or a build broke off while it wrote."""
    try:
        found = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def _write(file: Path, content: dict[str, Any]) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    unfinished = file.with_suffix(".unfinished")
    unfinished.write_text(json.dumps(content, ensure_ascii=False), encoding="utf-8")
    unfinished.replace(file)
