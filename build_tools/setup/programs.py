"""Programs of the system that tests run: Chromium, two more browsers and the web servers.

On Debian they are installed where they are not.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from subprocess import DEVNULL, call
from typing import NamedTuple, Sequence

from build_tools.setup import chromium
from build_tools.setup.progress import ProgramFailed, run, say

LIBRARIES = Path("/usr/lib")


class Program(NamedTuple):
    """What a test runs, and the package of Debian that holds it."""

    name: str
    package: str
    names: tuple[str, ...]
    inside: str = ""  # where it lies below /usr/lib, when it isn't on PATH

    def find(self) -> str | None:
        """Its path."""
        folders = os.pathsep.join([*os.get_exec_path(), "/usr/sbin"])
        on_path = [shutil.which(name, path=folders) for name in self.names]
        inside = sorted(LIBRARIES.glob(self.inside)) if self.inside else ()
        return next((path for path in [*on_path, *map(str, inside)] if path), None)


FIREFOX = Program("Firefox", "firefox-esr", ("firefox-esr", "firefox"))
WEBKIT = Program("WebKitGTK's MiniBrowser", "webkit2gtk-driver", (), "*/webkit2gtk-4*/MiniBrowser")
WEBKIT_DRIVER = Program("WebKitGTK's driver", "webkit2gtk-driver", ("WebKitWebDriver",))
SCREEN = Program("screen without a monitor", "xvfb", ("Xvfb",))
NGINX = Program("nginx", "nginx-light", ("nginx",))
APACHE = Program("Apache", "apache2-bin", ("apache2", "httpd"))
CADDY = Program("Caddy", "caddy", ("caddy",))
ALL = (FIREFOX, WEBKIT, WEBKIT_DRIVER, SCREEN, NGINX, APACHE, CADDY)
DEBIANS_CHROMIUM = LIBRARIES / "chromium"
DPKG_JOURNAL = Path("/var/lib/dpkg/updates")


def prepare(needs: Sequence[str]) -> None:
    """Install what a command needs and is missing, where this is Debian and the person may."""
    packages = sorted(missing(needs))
    apt = shutil.which("apt-get")
    if not packages or not apt or not hasattr(os, "geteuid") or os.geteuid() != 0:
        return
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    say(f"The tests need {', '.join(packages)}: apt-get installs them on this system.")
    try:
        # An installation that was killed leaves its journal, and apt-get then refuses everything.
        if any(DPKG_JOURNAL.glob("[0-9]*")):
            run("Finishing an installation that was cut off", ["dpkg", "--configure", "-a"], env)
        run("Reading the system's list of packages", [apt, "update"], env)
        # Debian and Ubuntu differ in what they have.
        quiet = {"stdout": DEVNULL, "stderr": DEVNULL}
        known = [each for each in packages if not call(["apt-cache", "show", each], **quiet)]
        if known:
            install = [apt, "install", "--yes", "--no-install-recommends", *known]
            run(f"Installing {', '.join(known)}", install, env)
    except ProgramFailed as failed:
        say("\n".join(failed.lines[-5:]))
        say("The tests that need them will fail and say so.")


def missing(needs: Sequence[str]) -> set[str]:
    """Packages. Debian's Chromium only where there is no other; its headless shell goes with it."""
    if "chromium" not in needs:
        return set()
    programs = ALL if "programs" in needs else ()
    packages = {each.package for each in programs if each.find() is None}
    if chromium.find() is None:
        packages.add("chromium")
    goes_with = programs and ("chromium" in packages or DEBIANS_CHROMIUM.is_dir())
    if goes_with and not any(map(shutil.which, chromium.SHELL_NAMES)):
        packages.add("chromium-headless-shell")
    return packages
