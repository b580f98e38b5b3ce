"""Where things lie, on Linux, macOS and Windows. Nothing here touches the disk."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path, PurePath
from typing import Iterable, Mapping

WINDOWS = "win32"
MAC = "darwin"


@dataclass(frozen=True)
class Places:
    """The folders that set-up makes and the files it reads, under the project's root."""

    root: Path

    @property
    def venv(self) -> Path:
        """The environment that everything runs in."""
        return self.root / ".venv"

    @property
    def cache(self) -> Path:
        """What can be made again, and takes time."""
        return self.root / ".cache"

    @property
    def locks(self) -> Path:
        """Locks of Python packages."""
        return self.root / "build_tools" / "setup" / "locks"

    @property
    def web(self) -> Path:
        """Front end: package.json, its lock, node_modules."""
        return self.root / "build_tools" / "web"

    @property
    def make_environment(self) -> Path:
        """Makes an environment for the Python that runs it, which need not be the one here."""
        return self.root / "build_tools" / "setup" / "make_environment.py"

    def lock(self, name: str) -> Path:
        """One lock: `site`, `test`, `browser` or `uv`."""
        return self.locks / f"{name}.txt"


def scripts_folder(venv: PurePath, system: str) -> PurePath:
    """Where an environment keeps its programs."""
    return venv / ("Scripts" if system == WINDOWS else "bin")


def venv_python(venv: PurePath, system: str) -> PurePath:
    """The Python of an environment."""
    return scripts_folder(venv, system) / ("python.exe" if system == WINDOWS else "python")


def python_names(version: tuple[int, int], system: str) -> list[str]:
    """What a Python may be called on PATH, the surest name first."""
    exact = f"python{version[0]}.{version[1]}"
    names = [exact, "python3", "python"]
    return [f"{name}.exe" for name in names] if system == WINDOWS else names


def pyenv_roots(env: Mapping[str, str], home: PurePath, system: str) -> list[PurePath]:
    """Folders where pyenv may keep its versions."""
    named = [env[name] for name in ("PYENV_ROOT", "PYENV") if env.get(name)]
    usual = home / ".pyenv" / "pyenv-win" if system == WINDOWS else home / ".pyenv"
    roots = [*(type(home)(name) for name in named), usual]
    return list(dict.fromkeys(roots))


def pyenv_pythons(
    root: PurePath, folders: Iterable[str], version: tuple[int, int], system: str
) -> list[PurePath]:
    """Pythons of one version under a pyenv root, newest first, from the names of its folders."""
    form = re.compile(rf"{version[0]}\.{version[1]}\.(\d+)")
    found = [(int(match[1]), name) for name in folders if (match := form.fullmatch(name))]
    inside = ("python.exe",) if system == WINDOWS else ("bin", "python")
    return [root.joinpath("versions", name, *inside) for _, name in sorted(found, reverse=True)]


CHROMIUM_NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
)


def chromium_places(env: Mapping[str, str], home: PurePath, system: str) -> list[PurePath]:
    """Where Chrome or Chromium usually is when it is not on PATH."""
    kind = type(home)
    if system == WINDOWS:
        tops = [env.get(name) for name in ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")]
        tails = (("Google", "Chrome"), ("Chromium",))
        return [
            kind(top, *tail, "Application", "chrome.exe") for top in tops if top for tail in tails
        ]
    if system == MAC:
        apps = (kind("/Applications"), home / "Applications")
        names = ("Google Chrome", "Chromium")
        return [app / f"{name}.app" / "Contents" / "MacOS" / name for app in apps for name in names]
    return [
        kind("/usr/bin/chromium"),
        kind("/usr/lib/chromium/chromium"),
        kind("/snap/bin/chromium"),
        kind("/opt/google/chrome/chrome"),
    ]
