"""Programs of the system that tests run beside Chromium: two more browsers and the web servers.

On Debian they are installed where they are not. Elsewhere a test that lacks one fails and says
how to get it.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import threading
from dataclasses import dataclass
from pathlib import Path
from typing import Callable, Mapping

from build_tools.setup.paths import CHROMIUM_NAMES
from build_tools.setup.progress import ProgramFailed, run, say

LIBRARIES = Path("/usr/lib")


@dataclass(frozen=True)
class Program:
    """What a test runs, and the package of Debian that holds it."""

    name: str
    package: str
    names: tuple[str, ...]
    inside: str = ""  # where it lies below /usr/lib, when it isn't on PATH

    def find(self) -> str | None:
        """Its path."""
        on_path = [shutil.which(name) for name in self.names]
        usual = [Path("/usr/sbin") / name for name in self.names]
        inside = LIBRARIES.glob(self.inside) if self.inside else ()
        every = [*on_path, *map(str, [*usual, *sorted(inside)])]
        return next((path for path in every if path and Path(path).is_file()), None)

    def found(self) -> str:
        """Its path; an error that says how to get it."""
        path = self.find()
        if path is None:
            message = f"No {self.name}. Fix: install {self.package}, as by apt-get install."
            raise AssertionError(message)
        return path


FIREFOX = Program("Firefox", "firefox-esr", ("firefox-esr", "firefox"))
WEBKIT = Program("WebKitGTK's MiniBrowser", "webkit2gtk-driver", (), "*/webkit2gtk-4*/MiniBrowser")
WEBKIT_DRIVER = Program("WebKitGTK's driver", "webkit2gtk-driver", ("WebKitWebDriver",))
SCREEN = Program("screen without a monitor", "xvfb", ("Xvfb",))
NGINX = Program("nginx", "nginx-light", ("nginx",))
APACHE = Program("Apache", "apache2-bin", ("apache2", "httpd"))
CADDY = Program("Caddy", "caddy", ("caddy",))
ALL = (FIREFOX, WEBKIT, WEBKIT_DRIVER, SCREEN, NGINX, APACHE, CADDY)
# Most tests run in it, sooner than in the whole Chromium, which does where there is none.
SHELL = Program(
    "Chromium's headless shell",
    "chromium-headless-shell",
    ("chromium-headless-shell", "chrome-headless-shell"),
)
CHROMIUM = Program("Chromium", "chromium", CHROMIUM_NAMES)
DEBIANS_CHROMIUM = LIBRARIES / "chromium"
DPKG_JOURNAL = Path("/var/lib/dpkg/updates")
PLAYWRIGHTS = Path.home() / ".cache" / "ms-playwright"


def begin() -> Callable[[], None]:
    """Begin to install what is missing, while other things are set up; what waits for its end."""
    installing = threading.Thread(target=prepare, kwargs={"beside": True}, daemon=True)
    installing.start()

    def wait() -> None:
        if installing.is_alive():
            say("  Waiting for the system's programs ...")
        installing.join()

    return wait


def prepare(*, beside: bool = False) -> None:
    """Install what is missing, where this is Debian and the person may install."""
    missing = sorted({each.package for each in _wanted() if each.find() is None})
    apt = shutil.which("apt-get")
    if not missing or not apt or not hasattr(os, "geteuid") or os.geteuid() != 0:
        return
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    install = [apt, "install", "--yes", "--no-install-recommends"]
    say(f"The tests need {', '.join(missing)}: apt-get installs them on this system.")
    try:
        _go_on_where_it_was_cut_off(env, beside=beside)
        run("Reading the system's list of packages", [apt, "update"], env=env, beside=beside)
        known = [package for package in missing if _is_known(package)]
        if known:
            label = f"Installing {', '.join(known)} for tests"
            run(label, [*install, *known], env=env, beside=beside)
    except ProgramFailed as failed:
        say("\n".join(failed.lines[-5:]))
        say("The tests that need them will fail and say so.")


def _go_on_where_it_was_cut_off(env: Mapping[str, str], *, beside: bool) -> None:
    """An installation that was killed leaves its journal, and apt-get then refuses everything."""
    if any(DPKG_JOURNAL.glob("[0-9]*")):
        label = "Finishing an installation that was cut off"
        run(label, ["dpkg", "--configure", "-a"], env=env, beside=beside)


def _wanted() -> tuple[Program, ...]:
    """Debian's Chromium only where there is no other. Its headless shell goes with it alone."""
    has_own = os.environ.get("HB_CHROMIUM") or any(PLAYWRIGHTS.glob("chromium-*"))
    if DEBIANS_CHROMIUM.is_dir():
        return (*ALL, SHELL)
    if has_own or CHROMIUM.find():
        return ALL
    return (*ALL, CHROMIUM, SHELL)


def _is_known(package: str) -> bool:
    """Whether this system has a package of that name: Debian and Ubuntu differ."""
    asked = ["apt-cache", "show", "--no-all-versions", package]
    return subprocess.run(asked, capture_output=True, check=False).returncode == 0
