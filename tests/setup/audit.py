"""Asks the package registries for known weaknesses of what the locks hold.

Their own clients are asked: `npm audit` and `pip-audit`. A registry need not answer such questions.
Then it is said that nothing is known: that is no clean bill.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from build_tools.setup.node import NPM
from build_tools.setup.paths import LOCKS, ROOT, WEB

LONGEST_S = 90
ONE_ANSWER_S = 10


@dataclass(frozen=True)
class Audit:
    """What one client said.

    Args:
        lock: What was asked about.
        weak: Each known weakness in a line: package, version, its name in the lists, what to do.
        unknown: Why there is no answer, or no whole one; empty if there is.
    """

    lock: str
    weak: tuple[str, ...] = ()
    unknown: str = ""

    @property
    def line(self) -> str:
        """All of it in a line."""
        if self.weak:
            return f"{self.lock}: {len(self.weak)} known weaknesses"
        if self.unknown:
            return f"{self.lock}: could not be audited. {self.unknown}"
        return f"{self.lock}: no weakness is known"


def front_end() -> Audit:
    """The packages of build_tools/web/package-lock.json."""
    lock = json.loads((WEB / "package-lock.json").read_text(encoding="utf-8"))
    tries = ["--fetch-retries=0", f"--fetch-timeout={1000 * ONE_ANSWER_S}"]
    said = _ask([sys.executable, "-c", NPM, "audit", "--json", *tries], WEB)
    return said if isinstance(said, Audit) else from_npm(said, lock)


def python() -> Audit:
    """The packages of every lock in build_tools/setup/locks."""
    files = [word for lock in sorted(LOCKS.glob("*.txt")) for word in ("-r", str(lock))]
    how = ["--disable-pip", "--require-hashes", "--progress-spinner=off", "--format=json"]
    command = [sys.executable, "-m", "pip_audit", *how, f"--timeout={ONE_ANSWER_S}", *files]
    said = _ask(command, ROOT)
    return said if isinstance(said, Audit) else from_pip_audit(said)


def from_npm(said: str, lock: Mapping[str, Any]) -> Audit:
    """Read the report of `npm audit --json`, version 2."""
    report = _read(said)
    if not report or "vulnerabilities" not in report:
        why = (report or {}).get("message") or "npm gave no report."
        return Audit("npm", unknown=f"The registry did not answer: {_short(why)}")
    return Audit(
        "npm",
        tuple(_npm_line(name, found, lock) for name, found in report["vulnerabilities"].items()),
    )


def _npm_line(name: str, found: Mapping[str, Any], lock: Mapping[str, Any]) -> str:
    nodes = found.get("nodes") or [f"node_modules/{name}"]
    version = lock["packages"].get(nodes[0], {}).get("version", "")
    told = [each["url"] for each in found["via"] if isinstance(each, dict)]
    fix = found.get("fixAvailable")
    take = f"{fix['name']}@{fix['version']}" if isinstance(fix, dict) else name
    what = f"npm install {take}" if fix else "none yet: do without it"
    names = ", ".join(told) or f"by way of {', '.join(map(str, found['via']))}"
    return f"{name} {version} ({found['severity']}): {names}. Fix: {what}, in build_tools/web."


def from_pip_audit(said: str) -> Audit:
    """Read the report of `pip-audit --format=json`. What it passed over is not audited."""
    report = _read(said)
    if not report or "dependencies" not in report:
        return Audit("Python", unknown=f"pip-audit gave no report: {_short(said)}")
    weak = tuple(
        f"{package['name']} {package['version']}: {each['id']}. Fix: {_newer(each)}."
        for package in report["dependencies"]
        for each in package.get("vulns", [])
    )
    passed_over = [package for package in report["dependencies"] if "skip_reason" in package]
    if not passed_over:
        return Audit("Python", weak)
    count = f"{len(passed_over)} of {len(report['dependencies'])} packages were passed over"
    return Audit("Python", weak, f"{count}: {_short(passed_over[0]['skip_reason'])}")


def _newer(weakness: Mapping[str, Any]) -> str:
    newer = weakness["fix_versions"]
    relock = "python -m build_tools.setup.relock --upgrade"
    return f"{relock}, for {' or '.join(newer)}" if newer else "none yet: do without it"


def _ask(command: list[str], folder: Path) -> str | Audit:
    """What a client printed; it may end with an error and have said why in its report."""
    lock = "npm" if "audit" in command else "Python"
    try:
        ended = subprocess.run(
            command, cwd=folder, capture_output=True, text=True, timeout=LONGEST_S, check=False
        )
    except subprocess.TimeoutExpired:
        return Audit(lock, unknown=f"There was no answer within {LONGEST_S} s.")
    if not ended.stdout.strip():
        last = ended.stderr.strip().splitlines()[-1:] or ["nothing was said"]
        return Audit(lock, unknown=f"The registry did not answer: {_short(last[0])}")
    return ended.stdout


def _read(said: str) -> dict[str, Any] | None:
    try:
        found = json.loads(said)
    except ValueError:
        return None
    return found if isinstance(found, dict) else None


def _short(words: str) -> str:
    """No more than a line, and no host: which one is asked is a setting of the machine."""
    plain = " ".join(word for word in words.split() if "://" not in word)
    return plain if len(plain) <= 160 else f"{plain[:160]} …"
