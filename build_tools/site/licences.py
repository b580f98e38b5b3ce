"""What is shipped that others made, found from locks and packages, with its licence."""

import importlib.metadata
import json
import os
import re
import sys
import sysconfig
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from build_tools.setup.paths import LOCKS, ROOT, WEB

# In the list of what a package installed. Of the theme that is thousands of files.
OWN_FILE = re.compile(r"^[^/,]+\.dist-info/[^,]+", re.MULTILINE)
LICENCE_NAMES = re.compile(r"(licen[cs]e|copying|notice|authors)\b.*", re.IGNORECASE)

# Behind a shipped npm package, but not shipped with it.
STAYS_HOME = {
    "ws": "pyodide uses it under Node.js only",
    "@types/emscripten": "types, gone when the front end is bundled",
}
# The npm package names the MPL 2.0 and carries no text. This one carries that licence whole.
TEXT_FROM = {"pyodide": "pathspec"}
THEME = "mkdocs-material"
ICONS = {
    "material": "Apache-2.0",
    "fontawesome": "CC-BY-4.0 (icons), MIT (code)",
    "octicons": "MIT",
}
SOURCE_LABELS = ("source", "source code", "repository", "homepage")


class NoLicenceTextError(Exception):
    """Something is shipped without the text that its licence asks for."""


@dataclass(frozen=True)
class Part:
    """One work by others that is in the site."""

    name: str
    version: str
    licence: str
    source: str
    text: str


def parts() -> Iterator[Part]:
    """Every part that is shipped, found from locks and packages."""
    yield from from_npm(WEB)
    yield from from_python_lock(LOCKS / "runtime.txt")
    yield _python_itself()
    yield from runtime_parts(WEB)
    yield from theme_parts()


def from_npm(web: Path) -> Iterator[Part]:
    """Every npm package that isn't a tool: fonts, the runtime, what is bundled."""
    lock = json.loads((web / "package-lock.json").read_text(encoding="utf-8"))
    for place, entry in lock["packages"].items():
        name = place.rpartition("node_modules/")[2]
        if place and not entry.get("dev") and name not in STAYS_HOME:
            folder = web / place
            about = json.loads((folder / "package.json").read_text(encoding="utf-8"))
            text = _texts_in(folder)
            if not text and name in TEXT_FROM:
                text = _distribution(TEXT_FROM[name]).text
            source = about.get("repository") or about.get("homepage") or ""
            link = source["url"] if isinstance(source, dict) else source
            yield Part(name, about["version"], about.get("license", "see below"), link, text)


def from_python_lock(lock: Path) -> Iterator[Part]:
    """Every Python package that runs in the browser."""
    for name, version in re.findall(
        r"^(\S+)==(\S+)", lock.read_text(encoding="utf-8"), flags=re.MULTILINE
    ):
        part = _distribution(name)
        if part.version != version:
            message = (
                f"{name}: the environment has {part.version}, the browser gets {version}.\n"
                "Fix: make the locks again: python -m build_tools.setup.relock"
            )
            raise NoLicenceTextError(message)
        yield part


def runtime_parts(web: Path) -> Iterator[Part]:
    """The libraries inside the browser runtime, written down for one release of it."""
    package = json.loads((web / "package.json").read_text(encoding="utf-8"))
    yield from _written_down("runtime_parts.txt", "pyodide", package["dependencies"]["pyodide"])


def theme_parts() -> Iterator[Part]:
    """The theme of the pages, what its script is bundled from, and the icons in its sheets."""
    theme = _distribution(THEME)
    yield theme
    yield from _written_down("theme_parts.txt", THEME, theme.version)
    found = importlib.metadata.distribution(THEME).locate_file("material/templates/.icons")
    for name, licence in ICONS.items():
        text = _texts_in(Path(str(found)) / name)
        yield Part(f"icons in {THEME}: {name}", "", licence, "", text)


def _written_down(name: str, package: str, pinned: str) -> Iterator[Part]:
    file = Path(__file__).parent / "licence_texts" / name
    head, *sections = file.read_text(encoding="utf-8").split("\n== ")
    made_for = head.splitlines()[0].removeprefix(f"{package} ")
    if made_for != pinned:
        message = (
            f"{file.relative_to(ROOT).as_posix()} was made for {package} {made_for}; {pinned} is "
            "pinned.\nFix: see what that release is built from, then change the list and its head."
        )
        raise NoLicenceTextError(message)
    for section in sections:
        title, _, text = section.partition("\n")
        part, _, licence = title.partition(" | ")
        yield Part(f"in {package}: {part}", "", licence, "", text.strip())


def _distribution(name: str) -> Part:
    found = importlib.metadata.distribution(name)
    about = found.metadata
    own = OWN_FILE.findall(found.read_text("RECORD") or "")
    text = _texts(Path(str(found.locate_file(name))) for name in own)
    named = [value.split(", ", 1) for value in about.get_all("Project-URL") or ()]
    links = {label.lower(): link for label, link in named}
    return Part(
        name,
        found.version,
        about.get("License-Expression") or about.get("License") or "see below",
        next(filter(None, map(links.get, SOURCE_LABELS)), about.get("Home-page", "")),
        text,
    )


# Python's licence asks for a summary of what was changed.
CHANGED = (
    "Changed here: modules of the standard library that can do nothing in a page are left out. "
    "The frozen Python has no docstrings."
)


def _python_itself() -> Part:
    """Python's own licence, from the Python that runs this; its terms are the same in 3.11 on."""
    folders = [Path(sysconfig.get_path("stdlib")), Path(sys.base_prefix)]
    text = _texts(folder / "LICENSE.txt" for folder in folders)
    text = f"{CHANGED}\n\n{text}"
    return Part("CPython and its standard library", "", "PSF-2.0", "https://www.python.org", text)


def _texts_in(folder: Path) -> str:
    """The licence texts in a folder."""
    names = os.listdir(folder)  # noqa: PTH208  one has thousands of icons: a path each is slow
    return _texts(folder / name for name in names if LICENCE_NAMES.fullmatch(name))


def _texts(files: Iterator[Path]) -> str:
    """The licence texts among some files."""
    found = [file for file in files if LICENCE_NAMES.fullmatch(file.name) and file.is_file()]
    texts = (file.read_text(encoding="utf-8", errors="replace").strip() for file in sorted(found))
    return "\n\n".join(text for text in texts if text)
