"""What a reader downloads to have the whole edition offline."""

import gzip
from pathlib import Path

from build_tools.benchmark.figures import Figure

ASKED_MB = 12.0
MEGA = 1_000_000
LARGEST = 6
# What static servers pack on the way; see the sample configurations.
PACKED = {".html", ".js", ".css", ".json", ".svg", ".txt", ".wasm", ".xml", ".webmanifest"}


def measure(site: Path) -> list[Figure]:
    """The size of all files of the site, as a server that packs text and wasm sends them."""
    sizes = {file.relative_to(site): _sent(file) for file in site.rglob("*") if file.is_file()}
    stored = sum(file.stat().st_size for file in site.rglob("*") if file.is_file())
    largest = sorted(sizes.items(), key=lambda each: -each[1])[:LARGEST]
    return [
        Figure(
            name="Whole edition, as transferred",
            value=sum(sizes.values()) / MEGA,
            unit="MB",
            asked=ASKED_MB,
            detail=(
                f"{len(sizes)} files, {stored / MEGA:.1f} MB on disk; the largest:",
                *(f"{size / MEGA:6.2f} MB  {file.as_posix()}" for file, size in largest),
            ),
        )
    ]


def _sent(file: Path) -> int:
    content = file.read_bytes()
    return len(gzip.compress(content, 6)) if file.suffix in PACKED else len(content)
