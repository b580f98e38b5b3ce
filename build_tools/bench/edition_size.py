"""What a reader downloads to have the whole edition offline."""

import gzip
from pathlib import Path

from build_tools.bench.measurement import Figure
from build_tools.setup.paths import ROOT

MEGA = 1_000_000
LARGEST = 6
# What static servers pack on the way; see the sample configurations.
PACKED = {".html", ".js", ".css", ".json", ".svg", ".txt", ".wasm", ".xml", ".webmanifest"}
PYODIDE = ROOT / "build_tools" / "web" / "node_modules" / "pyodide"
BARE = ("pyodide.asm.wasm", "pyodide.asm.js", "pyodide.js", "python_stdlib.zip")


def measure(site: Path, runtime: Path = PYODIDE) -> list[Figure]:
    """The size of all files of the site, as a server that packs text and wasm sends them."""
    files = [file for file in site.rglob("*") if file.is_file()]
    sizes = {file.relative_to(site): sent(file) for file in files}
    stored = sum(file.stat().st_size for file in files)
    bare = sum(sent(runtime / name) for name in BARE)
    whole = sum(sizes.values())
    largest = sorted(sizes.items(), key=lambda each: -each[1])[:LARGEST]
    return [
        Figure(
            kind="size",
            ratio=whole / bare,
            told=f"{whole / MEGA:.1f} MB",
            detail=(
                f"{len(sizes)} files, {stored / MEGA:.1f} MB on disk; the largest:",
                *(f"{size / MEGA:6.2f} MB  {file.as_posix()}" for file, size in largest),
            ),
        )
    ]


def sent(file: Path) -> int:
    """Bytes on the way."""
    content = file.read_bytes()
    return len(gzip.compress(content, 6)) if file.suffix in PACKED else len(content)
