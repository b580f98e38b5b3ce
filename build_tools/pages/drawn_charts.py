"""Draws the charts of worked examples, by the code that draws a reader's own in the browser."""

import hashlib
import json
from collections.abc import Sequence
from typing import Any

from build_tools.runtime import node_programs
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
        CACHE.mkdir(parents=True, exist_ok=True)
        html = "\n".join(json.loads(node_programs.run("draw_charts.mjs", text=text)))
        unfinished = kept.with_suffix(".unfinished")
        unfinished.write_text(html, encoding="utf-8", newline="\n")
        unfinished.replace(kept)
        _forget_oldest()
    kept.touch()
    return kept.read_text(encoding="utf-8")


def _key(text: str) -> str:
    """A short name for exactly this drawing."""
    total = hashlib.sha256(text.encode())
    sources = [*WEB.glob("src/chart/*.js"), WEB / "draw_charts.mjs", WEB / "package-lock.json"]
    for file in sorted(sources):
        total.update(file.read_bytes().replace(b"\r\n", b"\n"))
    return total.hexdigest()[:16]


def _forget_oldest() -> None:
    by_age = sorted(CACHE.glob("*.html"), key=lambda each: each.stat().st_mtime)
    for old in by_age[:-KEPT]:
        old.unlink(missing_ok=True)
