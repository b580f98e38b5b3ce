"""The wheels that run in the browser, and the lock that names them with their SHA-256.

On Python 3.13, the runtime's own, pyodide-build compiles them and writes the lock. On an older
Python it can do neither: the wheels stay as they are and the lock is written here.
"""

import hashlib
import json
import os
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Iterable, Mapping
from email.message import Message
from email.parser import Parser
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from build_tools.runtime.docstrings import without_docstrings
from build_tools.setup.paths import ROOT, WEB

FETCHED = ROOT / ".cache" / "wheels"
RUNTIME_PYTHON = (3, 13)
LOCK = "pyodide-lock.json"
# Any moment would do; this is the earliest that a zip file can hold.
MOMENT = (1980, 1, 1, 0, 0, 0)
# Pint's own tests, a third of its wheel; what is for a command line or for another system; and
# lists of parts, which are longer than the parts.
LEFT_OUT = (
    *("/testsuite/", "/testing.py", "/pytest_plugin.py", "/pint_convert.py", ".dist-info/sboms/"),
    *(f"platformdirs/{name}.py" for name in ("__main__", "_android", "android", "ios", "macos")),
    "platformdirs/windows.py",
)
# The questions and their engine: the page of practice brings them, and no other needs them. No page
# has a command line.
LEFT_OUT_OF_CALCS = shutil.ignore_patterns(
    *("__pycache__", "practice", "practice.json", "command_line", "__main__.py")
)
# Compiled files then hold a hash of their source in place of its time; and no columns of each
# instruction, a fifth of them, which a traceback would underline and nobody is shown.
COMPILED_SO = {"SOURCE_DATE_EPOCH": "315532800", "PYTHONNODEBUGRANGES": "1"}
NOTICE = (
    "The wheels are not compiled: pyodide-build compiles on Python {wanted}, and this is {found}. "
    "The handbook works the same; only its slower, ordinary start takes longer."
)


class WheelsMissing(Exception):
    """Set-up has not fetched the wheels that run in the browser."""


def can_compile() -> bool:
    """Whether this Python makes bytecode that the runtime can read."""
    return sys.version_info[:2] == RUNTIME_PYTHON


def notice() -> str:
    """What to say where wheels can't be compiled; nothing where they can."""
    if can_compile():
        return ""
    return NOTICE.format(
        wanted=".".join(map(str, RUNTIME_PYTHON)), found=".".join(map(str, sys.version_info[:2]))
    )


def fetched() -> list[Path]:
    """The wheels beside calcs, as set-up fetched them.

    Raises:
        WheelsMissing: There are none.
    """
    found = sorted(FETCHED.glob("*.whl"))
    if not found:
        raise WheelsMissing(
            f"No wheels are in {FETCHED.relative_to(ROOT)}.\n"
            "Fix: run python3 build_tools/start.py build, which fetches them."
        )
    return found


def make_others(folder: Path) -> None:
    """Put the wheels of others and their lock into a folder: the same until a lock changes."""
    for wheel in fetched():
        _write_without_docstrings(wheel, folder / wheel.name)
    info = json.loads((WEB / "node_modules" / "pyodide" / LOCK).read_text(encoding="utf-8"))["info"]
    _lock(folder, {"info": info, "packages": {}}, is_compiled=can_compile())


def make(folder: Path, staged: Path, *, is_draft: bool = False) -> None:
    """Put the wheel of calcs into a folder beside the others, and into their lock.

    Args:
        folder: What `make_others` has made, or a copy.
        staged: What `stage` has laid out.
        is_draft: Whether it may stay as it is: only the slower, ordinary start reads it.
    """
    known = json.loads((folder / LOCK).read_text(encoding="utf-8"))
    with TemporaryDirectory() as scratch:
        # On its own: pyodide-build compiles every archive that it finds.
        run_python("hatchling", "build", "--target", "wheel", "--directory", scratch, cwd=staged)
        _lock(Path(scratch), known, is_compiled=can_compile() and not is_draft)
        for made in Path(scratch).iterdir():
            shutil.copy2(made, folder)


def _lock(folder: Path, known: dict[str, Any], *, is_compiled: bool) -> None:
    """Write the wheels of a folder into a lock beside those that it knows, compiled or not."""
    wheels = sorted(folder.glob("*.whl"))
    if is_compiled:
        _lock_and_compile(folder, wheels, known)
    else:
        known["packages"] |= dict(map(_entry, wheels))
        _write(folder / LOCK, known)


def stage(staged: Path, bundle: Mapping[str, Any]) -> None:
    """The source of the wheel of calcs, with this bundle, whatever lies in calcs/bundle.json."""
    shutil.copytree(ROOT / "calcs", staged / "calcs", ignore=LEFT_OUT_OF_CALCS)
    for name in ("pyproject.toml", "LICENSE"):
        shutil.copy2(ROOT / name, staged)
    for module in (staged / "calcs").rglob("*.py"):
        # What the formula of a calculator says of itself is a part of `show`.
        formula = module.stem if module.parent.name == "calculators" else ""
        module.write_text(without_docstrings(module.read_bytes(), formula), "utf-8", newline="\n")
    text = json.dumps(bundle, ensure_ascii=False, separators=(",", ":"))
    (staged / "calcs" / "bundle.json").write_text(text, encoding="utf-8", newline="\n")


def lay_out(staged: Path, packages: Path) -> None:
    """Put calcs into a folder as a frozen Python takes it, compiled where that can be."""
    shutil.copytree(staged / "calcs", packages / "calcs")
    if can_compile():
        how = ("-q", "-b", "--invalidation-mode", "unchecked-hash")
        run_python("compileall", *how, "calcs", cwd=packages)  # named from there in the code
        for source in (packages / "calcs").rglob("*.py"):
            source.unlink()


def _lock_and_compile(folder: Path, wheels: Iterable[Path], known: Mapping[str, Any]) -> None:
    lock, start = folder / LOCK, folder / "known.json"
    _write(start, known)
    names = [start.name, lock.name, *[wheel.name for wheel in wheels]]
    run_python("build_tools.runtime.compile_wheels", folder, *names, cwd=ROOT)
    start.unlink()
    found = json.loads(lock.read_text(encoding="utf-8"))
    for name in found["packages"].keys() - known["packages"].keys():
        entry = found["packages"][name]
        _restamp(folder / entry["file_name"])
        entry["sha256"] = _sha256(folder / entry["file_name"])
    _write(lock, found)


def _restamp(wheel: Path) -> None:
    """Write a wheel again, in order: what runs alone, with one fixed time for the time of day."""
    with zipfile.ZipFile(wheel) as old:
        names = sorted(
            name for name in old.namelist() if not any(part in name for part in LEFT_OUT)
        )
        parts = {name: old.read(name) for name in names}
    with zipfile.ZipFile(wheel, "w") as new:
        for name, content in parts.items():
            new.writestr(zipfile.ZipInfo(name, MOMENT), content, zipfile.ZIP_DEFLATED, 9)


def _write_without_docstrings(wheel: Path, target: Path) -> None:
    with zipfile.ZipFile(wheel) as old, zipfile.ZipFile(target, "w") as new:
        for name in old.namelist():
            content = old.read(name)
            is_module = name.endswith(".py")
            new.writestr(
                zipfile.ZipInfo(name, MOMENT), without_docstrings(content) if is_module else content
            )


def _entry(wheel: Path) -> tuple[str, dict[str, Any]]:
    """What a lock says of one wheel, in the form that the runtime's loader reads."""
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
        inside = next(name for name in names if name.endswith(".dist-info/METADATA"))
        facts: Message = Parser().parsestr(archive.read(inside).decode())
    top = {name.split("/")[0].removesuffix(".py") for name in names if ".dist-info/" not in name}
    needed = [Requirement(line) for line in facts.get_all("Requires-Dist", [])]
    name = canonicalize_name(facts["Name"])
    return name, {
        "name": name,
        "version": facts["Version"],
        "file_name": wheel.name,
        "install_dir": "site",
        "sha256": _sha256(wheel),
        "package_type": "package",
        "imports": sorted(top),
        "depends": sorted(canonicalize_name(each.name) for each in needed if _always(each)),
        "unvendored_tests": False,
    }


def _always(requirement: Requirement) -> bool:
    """Whether a requirement holds in the runtime without any extra being asked for."""
    python = ".".join(map(str, RUNTIME_PYTHON))
    runtime = {"extra": "", "python_version": python, "python_full_version": f"{python}.0"}
    return requirement.marker is None or requirement.marker.evaluate(runtime)


def run_python(module: str, *arguments: object, cwd: Path) -> None:
    """Run a module of the environment; what it says matters only when it fails."""
    ended = subprocess.run(
        [sys.executable, "-m", module, *map(str, arguments)],
        cwd=cwd,
        env={**os.environ, **COMPILED_SO},
        capture_output=True,
        text=True,
        check=False,
    )
    if ended.returncode:
        raise RuntimeError(f"python -m {module} stopped.\n{ended.stdout}{ended.stderr}")


def _sha256(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()


def _write(file: Path, content: Mapping[str, Any]) -> None:
    file.write_text(json.dumps(content, indent=1, sort_keys=True) + "\n", encoding="utf-8")
