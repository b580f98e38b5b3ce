"""Draws the charts of worked examples, by the code that draws a reader's own in the browser."""

import hashlib
import json
from collections.abc import Sequence
from typing import Any

from build_tools.runtime import node_programs
from build_tools.runtime.cache import forget_oldest, write_whole
from build_tools.setup.paths import ROOT, WEB

# Node.js takes a third of a second to start; an example changes seldom.
CACHE = ROOT / ".cache" / "charts"
KEPT = 100  # drawings kept in the cache


def drawn(charts: Sequence[dict[str, Any]]) -> str:
    """Charts of one answer, as `calcs.engine.chart` gives them, as HTML that needs no script.

    Raises:
        NodeStopped: They can't be drawn.
    """
    if not charts:
        return ""
    text = json.dumps(charts, ensure_ascii=False)
    kept = CACHE / f"{_key(text)}.html"
    if not kept.is_file():
        drawings = json.loads(node_programs.run("draw_charts.mjs", text=text))
        write_whole(kept, "".join(drawings))
        forget_oldest(CACHE, KEPT)
    kept.touch()
    return kept.read_text(encoding="utf-8")


def _key(text: str) -> str:
    """A short name for exactly this drawing."""
    total = hashlib.sha256(text.encode())
    sources = [*WEB.glob("src/chart/*.js"), WEB / "draw_charts.mjs", WEB / "package-lock.json"]
    for file in sorted(sources):
        total.update(file.read_bytes().replace(b"\r\n", b"\n"))
    return total.hexdigest()[:16]
