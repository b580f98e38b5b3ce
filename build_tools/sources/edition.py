"""The stamp of an edition: its day, and short names for exactly what it was made from."""

import hashlib
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from build_tools.setup.paths import ROOT
from build_tools.sources.host import settings
from build_tools.sources.overlays import Overlay


def edition(day: date, root: Path = ROOT, layers: Sequence[Overlay] = ()) -> str:
    """The stamp of an edition: its day, then a short name for its content and for each overlay."""
    beneath, stamps = settings(root).site_name if layers else "", []
    for layer in layers:
        if layer.changes(beneath):
            stamps.append(layer.stamp)
        beneath = layer.host
    return f"{day.isoformat()} {'+'.join([content_hash(root), *stamps])}"


def content_hash(root: Path = ROOT) -> str:
    """A short name for exactly this data, these words and these formulas."""
    total = hashlib.sha256()
    content = [path for kind in ("yaml", "md") for path in (root / "content").rglob(f"*.{kind}")]
    files = [*(root / "data").rglob("*.yaml"), *content]
    for path in sorted([*files, *(root / "calcs").rglob("*.py")]):
        total.update(path.relative_to(root).as_posix().encode() + b"\0")
        total.update(path.read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return total.hexdigest()[:7]
