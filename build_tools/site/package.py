"""The command `package`: the editions to hand out, from one build.

`hosted/` is for a server. The zip is the folder edition: a person unpacks it and opens its
index.html from disk or a memory stick. A browser lets such a page fetch nothing, so the runtime
is carried in scripts; `build_tools/web/src/client/folder-edition.js` is the other half.
"""

import base64
import gzip
import hashlib
import json
import os
import re
import shutil
import sys
import time
import zipfile
import zlib
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from build_tools.runtime.make_runtime import SNAPSHOT, hash_of, kept
from build_tools.setup.paths import ROOT
from build_tools.site import build_site, offline
from build_tools.site.policy import for_folder
from build_tools.sources import overlays
from build_tools.sources.filled import invented_figures
from build_tools.sources.host import Host, settings
from build_tools.sources.load_project import load
from build_tools.sources.overlays import Overlay
from build_tools.sources.problems import report

WASM = "pyodide.asm.wasm"
CARRIED = (WASM, SNAPSHOT)
EDITION = re.compile(r'<meta name="hb-edition" content="([^" ]+) ([^"]+)">')
# What a browser may not fetch so from disk: what installs a site, and a font before its sheet asks.
NOT_FROM_DISK = re.compile(r'<link rel="(?:manifest|preload)"[^>]*>\n')
OLDEST_S = 315532800  # 1980-01-01: a zip file knows no earlier day
PLAIN_FILE = 0o100644
MEGA = 1_000_000
READ_ME = "READ_ME_FIRST.txt"
WORDS = """{name}, the folder edition of {day} ({state})

1. Unpack the whole zip file. Keep all of its files together.
2. Open index.html in Chrome, Edge, Firefox or Safari.

It works from a disk or a memory stick. It needs no network and sends nothing anywhere.
The appliance's own instructions come first, then the regulations and standards in force.
"""


def main(out: Path | None, overlay: Sequence[Path] = (), *, with_invented: bool = False) -> int:
    """Make both editions in a folder, `dist` unless another is given."""
    layers = overlays.read(overlay)
    if not with_invented and (invented := [*invented_figures(load(layers=layers))]):
        print(report(invented), file=sys.stderr)
        return 1
    made = package(out or ROOT / "dist", layers)
    print(f"The folder edition is {made} ({made.stat().st_size / MEGA:.1f} MB).")
    print(f"The edition for a server is {made.parent / 'hosted'}.")
    return 0


def package(out: Path, layers: Sequence[Overlay] = ()) -> Path:
    """Build the site into `out/hosted` and zip its folder edition beside it. Give the zip."""
    hosted = out / "hosted"
    contents, host = build_site.build(hosted, layers=layers), settings(overlays=layers)
    with TemporaryDirectory(dir=out) as scratch:
        folder = Path(scratch) / "folder"
        shutil.copytree(hosted, folder)
        name = to_folder(folder, host)
        offline.write(folder, contents, "folder", host=host)
        made = Path(scratch) / f"{name}.zip"
        write_zip(folder, made, name)
        made = made.replace(out / made.name)
    # Where a browser keeps no copy, the hosted edition offers this one.
    offered = Path(shutil.copy2(made, hosted))
    offline.write(hosted, contents, "hosted", offered, host)
    return made


def to_folder(folder: Path, host: Host | None = None) -> str:
    """Turn a copy of the hosted site into the folder edition. Give the name it goes by."""
    day, state = edition_of(folder)
    host = host or settings()
    _carry_runtime(folder / "assets")
    for page in folder.rglob("*.html"):
        text = for_folder(page.read_text(encoding="utf-8"))
        text = NOT_FROM_DISK.sub("", text)
        page.write_text(text, encoding="utf-8", newline="\n")
    words = WORDS.format(name=host.site_name, day=day, state=state)
    (folder / READ_ME).write_text(words, encoding="utf-8", newline="\r\n")  # opened in Notepad too
    return f"{host.file_name}_{day}_{state}"


def edition_of(folder: Path) -> tuple[str, str]:
    """Day and state of the edition, as its front page has them."""
    found = EDITION.search((folder / "index.html").read_text(encoding="utf-8"))
    if found is None:
        message = f"{folder / 'index.html'} names no edition.\nFix: build the site anew."
        raise SystemExit(message)
    return found[1], found[2]


def _carry_runtime(assets: Path) -> None:
    """Put the runtime into scripts, and the workers' texts where every page has them."""
    runtime, handbook = assets / "runtime", assets / "handbook"
    scripts = {name: _as_script(name, (runtime / name).read_bytes()) for name in CARRIED}
    shutil.rmtree(runtime)
    runtime.mkdir()
    for name, script in scripts.items():
        (runtime / f"{name}.js").write_text(script, encoding="ascii", newline="\n")
    worker, search = handbook / "worker.js", handbook / "search-worker.js"
    given = {
        "worker": worker.read_text(encoding="utf-8"),
        "searchWorker": search.read_text(encoding="utf-8"),
        "files": sorted(CARRIED),
    }
    worker.unlink()
    search.unlink()
    page_script = handbook / "handbook.js"
    before = f"window.hbFolder = {json.dumps(given, ensure_ascii=False)};\n"
    whole = before + page_script.read_text(encoding="utf-8")
    page_script.write_text(whole, encoding="utf-8", newline="\n")


def _as_script(name: str, content: bytes) -> str:
    packed = content if name.endswith(".gz") else _packed(name, content)
    text = base64.b64encode(packed).decode("ascii")
    return f'(window.hbRuntime ??= {{}})["{name}"] = "{text}";\n'


def _packed(name: str, content: bytes) -> bytes:
    """As small as can be. It takes a second, and the runtime is the same until a lock changes."""
    key = hash_of((), name, hashlib.sha256(content).hexdigest(), zlib.ZLIB_RUNTIME_VERSION)

    def pack(folder: Path) -> None:
        (folder / name).write_bytes(gzip.compress(content, 9, mtime=0))

    return (kept("packed", key, pack) / name).read_bytes()


def write_zip(folder: Path, file: Path, top: str) -> None:
    """Zip a folder so that the same files give the same bytes: sorted, with one time for all."""
    epoch = max(OLDEST_S, int(os.environ.get("SOURCE_DATE_EPOCH", OLDEST_S)))
    stamp = time.gmtime(epoch)[:6]
    with zipfile.ZipFile(file, "w") as archive:
        for path in sorted(each for each in folder.rglob("*") if each.is_file()):
            entry = zipfile.ZipInfo(f"{top}/{path.relative_to(folder).as_posix()}", stamp)
            entry.create_system = 3  # the same on every system that builds
            entry.external_attr = PLAIN_FILE << 16
            archive.writestr(entry, path.read_bytes(), zipfile.ZIP_DEFLATED, 9)
