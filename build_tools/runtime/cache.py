"""What is kept in `.cache/` for the next build, though several builds use it at once."""

import shutil
import time
from pathlib import Path
from tempfile import NamedTemporaryFile

FOR_ALL = 0o644  # a temporary file is for its owner alone
IN_USE_S = 3600  # a build that has asked for something within this time may still be reading it
UNFINISHED = ".unfinished-"  # `serve` passes over what begins with a dot


def write_whole(file: Path, text: str) -> Path:
    """Write a text in one move: a reader meets the old one or the new, and never half."""
    file.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile(
        "w", dir=file.parent, prefix=UNFINISHED, delete=False, encoding="utf-8", newline="\n"
    ) as unfinished:
        unfinished.write(text)
    made = Path(unfinished.name)
    made.chmod(FOR_ALL)
    return made.replace(file)


def forget_oldest(home: Path, kept: int) -> None:
    """Take away all but the newest of a folder, as far as no build has asked for it of late."""
    asked_for = {each: _asked_for(each) for each in home.iterdir()}
    by_age = sorted(asked_for, key=lambda each: asked_for[each])
    finished = [each for each in by_age if not each.name.startswith(UNFINISHED)]
    for old in finished[:-kept]:
        if asked_for[old] < time.time() - IN_USE_S:
            shutil.rmtree(old, ignore_errors=True) if old.is_dir() else old.unlink(missing_ok=True)


def _asked_for(path: Path) -> float:
    """When a build last asked for it; never, where another build has just taken it away."""
    try:
        return path.stat().st_mtime
    except FileNotFoundError:
        return 0.0
