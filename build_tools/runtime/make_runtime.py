"""The browser's Python and the scripts of the pages, made once for each state of their sources.

What is made lies in `.cache/runtime/`, in a folder named by a hash of all that goes into it, so a
build in which nothing changed copies files and does no more.
"""

import base64
import gzip
import hashlib
import json
import shutil
import sys
import zipfile
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from datetime import date
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from build_tools.runtime import node_programs, snapshot, standard_library, wheels
from build_tools.runtime.cache import UNFINISHED, forget_oldest
from build_tools.runtime.snapshot import Cases
from build_tools.setup.paths import ROOT, WEB
from build_tools.sources.days import example_day

CACHE = ROOT / ".cache" / "runtime"
LIBRARY = "python_stdlib.zip"
LOADER = ("pyodide.js", "pyodide.asm.js", "pyodide.asm.wasm", LIBRARY)
LEVEL = 8  # of gzip: 9 takes more than twice as long, for less than half a per cent
DRAFT_LEVEL = 0  # it goes from this machine to itself
SNAPSHOT = "snapshot.bin.gz"
MANIFEST = "manifest.json"
FACTS = "worker-facts.json"
WORKER = "worker.js"
WAITING = "src/worker/placeholder-worker.js"
# What this file imports, and no more: an edit elsewhere must not freeze the Python again.
TOOLS = (
    *("runtime/make_runtime", "runtime/node_programs", "runtime/snapshot", "runtime/wheels"),
    *("runtime/cache", "runtime/snapshot_cases", "runtime/standard_library"),
    *("runtime/compile_wheels", "runtime/docstrings", "runtime/strip_docstrings", "setup/paths"),
    *("sources/load_project", "sources/project", "sources/calculator_spec", "sources/problems"),
    *("sources/read_yaml", "sources/days", "sources/node", "sources/page_kinds", "sources/schema"),
    *("sources/filled", "sources/overlays", "sources/read_before", "sources/worked_example"),
)
MAKERS = (
    *(f"build_tools/{name}.py" for name in TOOLS),
    "build_tools/web/*.mjs",
    "build_tools/web/*.py",
    "build_tools/web/package-lock.json",
    "build_tools/web/src/worker/snapshot-file.js",
    "build_tools/web/src/worker/restore-snapshot.js",
)
SWITCH_S = 1e-4  # by default a thread waits 5 ms after each of the many files that it reads
KEPT = 4  # states kept in the cache: going back and forth between two branches costs nothing


def build(site_assets_dir: Path, bundle: Mapping[str, Any], *, is_draft: bool = False) -> None:
    """Put the runtime and the scripts under a site's `assets` folder.

    Args:
        site_assets_dir: The folder `assets` of the site.
        bundle: Figures and words, as `build_tools.runtime.bundle.make` gives them.
        is_draft: Whether it need not be as small as can be: nobody is sent it.

    Raises:
        AnswersDiffer: The runtime answers otherwise than CPython.
        NodeStopped: It stopped, or a script can't be bundled.
        WheelsMissing: Set-up has not fetched the wheels.
    """
    with ThreadPoolExecutor(1) as beside:
        making = begin(bundle, beside, is_draft=is_draft)
        scripts = _bring_scripts(site_assets_dir)
        runtime = making.result()
    _bring(runtime, site_assets_dir / "runtime", leave={FACTS})
    # Last, for it names the files of the runtime by their hashes.
    facts = {"edition": bundle["edition"], **json.loads((runtime / FACTS).read_text("utf-8"))}
    _write_worker(site_assets_dir / "handbook" / WORKER, scripts / WORKER, facts)


def build_waiting(site_assets_dir: Path) -> None:
    """Put the scripts there without the runtime: the calculators say that they are being made."""
    _bring_scripts(site_assets_dir)
    shutil.copyfile(WEB / WAITING, site_assets_dir / "handbook" / WORKER)


def begin(bundle: Mapping[str, Any], beside: Executor, *, is_draft: bool = False) -> "Future[Path]":
    """Make the runtime for `build`, in another thread: it waits most of the time, and not for us.

    A draft takes the one of a build where that was made before.

    Args:
        bundle: As `build` takes it.
        beside: What has other threads.
        is_draft: As `build` takes it.

    Returns:
        The folder of the runtime. It raises what `build` raises.
    """
    key = _python_key(bundle)
    kind = "drafts" if is_draft and not (CACHE / "python" / key).is_dir() else "python"
    make = partial(_make_runtime, bundle=bundle, is_draft=is_draft)
    if not (CACHE / kind / key).is_dir():
        sys.setswitchinterval(SWITCH_S)
        # Here, because calcs takes a fifth of a second to import, and freezing is seldom.
        from build_tools.runtime import snapshot_cases  # noqa: PLC0415

        # Now: only one thread at a time may ask the calculators.
        make = partial(make, cases=snapshot_cases.cases(_undated(bundle), _day(bundle)))
    return beside.submit(kept, kind, key, make)


def _bring_scripts(site_assets_dir: Path) -> Path:
    scripts = kept("scripts", _scripts_key(), _bundle)
    _bring(scripts, site_assets_dir / "handbook", leave={WORKER})
    return scripts


def _write_worker(file: Path, script: Path, facts: Mapping[str, Any]) -> None:
    """The worker knows its runtime by what stands before its script: see runtime-facts.d.ts."""
    known = json.dumps(facts, sort_keys=True, separators=(",", ":"))
    text = f'"use strict";var HB_RUNTIME={known};\n{script.read_text(encoding="utf-8")}'
    file.write_text(text, encoding="utf-8", newline="\n")


def _undated(bundle: Mapping[str, Any]) -> dict[str, Any]:
    """The bundle without the name of its edition, which every edit of a page changes.

    The worker hands the name in with each request.
    """
    return {key: value for key, value in bundle.items() if key != "edition"}


def _day(bundle: Mapping[str, Any]) -> date:
    return example_day(bundle, date.fromisoformat(bundle["edition"].split()[0]))


def _make_runtime(folder: Path, *, bundle: Mapping[str, Any], cases: Cases, is_draft: bool) -> None:
    """All of it, with a Python that has proved itself against CPython."""
    others = kept("others", _others_key(), _make_others)
    shutil.copytree(others, folder, dirs_exist_ok=True)
    library = others / LIBRARY
    stripped = kept("stripped", _stripped_key(library), lambda made: _strip(library, made))
    with TemporaryDirectory() as scratch, ThreadPoolExecutor(1) as beside:
        python = snapshot.Python(others, stripped / LIBRARY, stripped / "wheels", Path(scratch))
        staged = Path(scratch, "staged")
        wheels.stage(staged, _undated(bundle))
        wheels.lay_out(staged, Path(scratch))
        wheel = beside.submit(wheels.make, folder, staged, is_draft=is_draft)
        raw = python.frozen(Path(scratch, "calcs"), _undated(bundle), cases)
        wheel.result()
    if said := wheels.notice():
        print(said)
    level = DRAFT_LEVEL if is_draft else LEVEL
    (folder / SNAPSHOT).write_bytes(gzip.compress(raw, level, mtime=0))
    files = {path.name: _file(path) for path in sorted(folder.iterdir())}
    _write(folder / MANIFEST, {"pyodide": _pyodide_version(), "files": files})
    _write(folder / FACTS, {"files": _for_worker(files, raw)})


def _make_others(folder: Path) -> None:
    """All but calcs: the same until a lock changes."""
    wheels.make_others(folder)
    for name in LOADER:
        shutil.copy2(WEB / "node_modules" / "pyodide" / name, folder)
    standard_library.leave_out(folder / LIBRARY)


def _strip(library: Path, made: Path) -> None:
    """Other people's modules without docstrings: the same until a lock changes."""
    if wheels.can_compile():
        wheels.run_python(
            "build_tools.runtime.strip_docstrings", library, made, *wheels.fetched(), cwd=ROOT
        )
    else:
        shutil.copy2(library, made)
        for each in sorted(library.parent.glob("*.whl")):
            with zipfile.ZipFile(each) as archive:
                archive.extractall(made / "wheels")


def _stripped_key(library: Path) -> str:
    return hash_of(
        [library, *_makers("docstrings", "strip_docstrings"), *wheels.fetched()], sys.version
    )


def _others_key() -> str:
    makers = _makers("make_runtime", "standard_library", "wheels", "compile_wheels", "docstrings")
    return hash_of([WEB / "package-lock.json", *makers, *wheels.fetched()], sys.version)


def _makers(*names: str) -> list[Path]:
    return [Path(__file__).with_name(f"{name}.py") for name in names]


def _bundle(folder: Path) -> None:
    node_programs.run("bundle.mjs", folder)


def _for_worker(files: Mapping[str, Mapping[str, Any]], raw: bytes) -> dict[str, dict[str, Any]]:
    """The files that a worker checks before they run, with hashes as `fetch` takes them."""
    hashes = {name: [bytes.fromhex(file["sha256"])] for name, file in files.items()}
    hashes[SNAPSHOT].append(hashlib.sha256(raw).digest())
    return {
        name: {
            "name": name,
            "size": files[name]["size"],
            "sha256": [base64.b64encode(digest).decode() for digest in hashes[name]],
        }
        for name in files
    }


def _python_key(bundle: Mapping[str, Any]) -> str:
    files = [path for pattern in MAKERS for path in ROOT.glob(pattern)]
    calcs = [path for path in ROOT.glob("calcs/**/*.py") if path.parent.name != "practice"]
    sources = [*files, *calcs, ROOT / "pyproject.toml", *wheels.fetched()]
    # The day, because the snapshot's requests are of that day.
    asked = json.dumps([_undated(bundle), _day(bundle).isoformat()], sort_keys=True)
    return hash_of(sources, asked, str(wheels.can_compile()))


def _scripts_key() -> str:
    return hash_of(
        [
            *WEB.glob("src/**/*.js"),
            *WEB.glob("src/**/*.json"),
            WEB / "bundle.mjs",
            WEB / "package-lock.json",
        ]
    )


def hash_of(files: Iterable[Path], *also: str) -> str:
    """A short name for exactly these files and texts, whatever the line ends that git gave them."""
    total = hashlib.sha256("\0".join(also).encode())
    for file in sorted(set(files)):
        content = file.read_bytes()
        if file.suffix not in {".whl", ".zip"}:
            content = content.replace(b"\r\n", b"\n")
        total.update(file.name.encode() + b"\0" + hashlib.sha256(content).digest())
    return total.hexdigest()[:16]


def kept(kind: str, key: str, make: Callable[[Path], object]) -> Path:
    """The folder that has this key; made now if it isn't there, whole or not at all."""
    home = CACHE / kind
    folder = home / key
    if not folder.is_dir():
        home.mkdir(parents=True, exist_ok=True)
        with TemporaryDirectory(dir=home, prefix=UNFINISHED) as scratch:
            made = Path(scratch) / "made"
            made.mkdir()
            make(made)
            try:
                made.rename(folder)
            except OSError:
                if not folder.is_dir():  # else another build was sooner
                    raise
    folder.touch()
    forget_oldest(home, KEPT)
    return folder


def _bring(made: Path, target: Path, leave: set[str]) -> None:
    """Copy what differs; take away what an older build left in the runtime's folder."""
    target.mkdir(parents=True, exist_ok=True)
    names = {each.name for each in made.iterdir()} - leave
    for name in names:
        source, copy = made / name, target / name
        if not copy.exists() or _stamp(copy) != _stamp(source):
            shutil.copy2(source, copy)
    if target.name == "runtime":
        for stale in {each.name for each in target.iterdir()} - names:
            (target / stale).unlink()


def _stamp(file: Path) -> tuple[int, int]:
    return file.stat().st_size, file.stat().st_mtime_ns


def _file(path: Path) -> dict[str, Any]:
    content = path.read_bytes()
    return {"size": len(content), "sha256": hashlib.sha256(content).hexdigest()}


def _pyodide_version() -> str:
    package = WEB / "node_modules" / "pyodide" / "package.json"
    return str(json.loads(package.read_text(encoding="utf-8"))["version"])


def _write(file: Path, content: Mapping[str, Any]) -> None:
    text = json.dumps(content, indent=1, sort_keys=True, ensure_ascii=False)
    file.write_text(text + "\n", encoding="utf-8", newline="\n")
