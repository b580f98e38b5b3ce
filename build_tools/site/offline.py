"""What lets an edition be kept whole on a device: its own facts, its files, its service worker."""

import base64
import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal

from build_tools.runtime import node_programs
from build_tools.runtime.make_runtime import hash_of, kept
from build_tools.setup.paths import WEB
from build_tools.site import upcoming_changes
from build_tools.sources.days import build_day
from build_tools.sources.host import Host, settings

Kind = Literal["hosted", "folder", "draft"]

FACTS = "assets/handbook/edition.js"
WORKER = "service-worker.js"
BUNDLE = "bundle_service_worker.mjs"
MANIFEST = "handbook.webmanifest"
# Drawings of theme/assets/favicon.svg, well within the circle that a device may cut them to.
ICONS = "assets/icons"
GROUND = "#10262d"


def write(
    site: Path,
    bundle: Mapping[str, Any],
    kind: Kind,
    zipped: Path | None = None,
    host: Host | None = None,
) -> None:
    """Complete a site that is otherwise whole. What is written depends on every file of it.

    Args:
        site: The folder of the site.
        bundle: Its figures and words.
        kind: `hosted` is kept on devices; `folder` needs no keeping; a `draft` must not be kept,
            or its author would see yesterday's.
        zipped: The folder edition, where the host offers it. It lies in `site`.
        host: Whose edition it is; what `mkdocs.yml` says, where there is no overlay.
    """
    host = host or settings()
    (site / WORKER).unlink(missing_ok=True)
    (site / FACTS).unlink(missing_ok=True)
    _write(site / MANIFEST, json.dumps(_manifest(host), indent=1, ensure_ascii=False))
    files = [entry(site, path) for path in _kept(site, zipped)]
    facts = {
        "name": bundle["edition"],
        "day": bundle["edition"].split()[0],
        "goodForDays": host.good_for_days,
        "kind": kind,
        "bytes": sum(each["size"] for each in files),
        "zip": zipped and {"name": zipped.name, "bytes": zipped.stat().st_size},
        "changes": upcoming_changes.after(bundle, build_day()),
    }
    _write(site / FACTS, f"window.hbEdition = {json.dumps(facts, ensure_ascii=False)};")
    if kind == "hosted":
        files.append(entry(site, site / FACTS))
        _write_worker(site / WORKER, {"edition": facts["name"], "files": files})


def entry(site: Path, path: Path) -> dict[str, Any]:
    """A file as the service worker knows it."""
    content = path.read_bytes()
    digest = hashlib.sha256(content).digest()
    return {
        "url": path.relative_to(site).as_posix(),
        "revision": digest.hex()[:16],
        "integrity": "sha256-" + base64.b64encode(digest).decode("ascii"),
        "size": len(content),
    }


def _kept(site: Path, zipped: Path | None) -> list[Path]:
    """Every file, small ones first: pages can be read while the runtime is still coming."""
    files = [path for path in site.rglob("*") if path.is_file() and path != zipped]
    return sorted(files, key=lambda path: (path.stat().st_size, path.as_posix()))


def _write_worker(file: Path, precache: Mapping[str, Any]) -> None:
    total = sum(each["size"] for each in precache["files"])
    listed = json.dumps({**precache, "bytes": total}, ensure_ascii=False)
    script = (kept("service-worker", _script_key(), _bundle) / WORKER).read_text(encoding="utf-8")
    _write(file, f"self.hbPrecache = {listed};\n{script}")


def _script_key() -> str:
    files = (WEB / "src/service-worker").glob("*.js")
    return hash_of([*files, WEB / BUNDLE, WEB / "package-lock.json"])


def _bundle(folder: Path) -> None:
    node_programs.run(BUNDLE, folder)


def _manifest(host: Host) -> dict[str, Any]:
    """What a device asks before it puts the handbook among its programs."""
    pictures = [
        {"src": f"{ICONS}/{size}.png", "sizes": f"{size}x{size}", "type": "image/png", "purpose": p}
        for size in (192, 512)
        for p in ("any", "maskable")
    ]
    drawn = {"src": "assets/favicon.svg", "sizes": "any", "type": "image/svg+xml"}
    return {
        "id": "./index.html",
        "name": host.site_name,
        "short_name": host.short_name,
        "description": "Steps, limits and sums for setting up and checking gas appliances.",
        "lang": "en-GB",
        "start_url": "index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": GROUND,
        "theme_color": GROUND,
        "icons": [drawn, *pictures],
    }


def _write(file: Path, text: str) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text.rstrip("\n") + "\n", encoding="utf-8", newline="\n")
