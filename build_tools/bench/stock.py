"""MkDocs with its stock theme over as many plain pages, with the same words as a built site.

It is what a page, a build and an edit are measured against: what the tool does anyway, on this
machine, in this run.
"""

import html
import os
import re
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

# No plug-in, and nothing from another host.
SETTINGS = """site_name: Plain pages
docs_dir: pages
site_dir: site
use_directory_urls: false
plugins: []
theme:
  name: mkdocs
  highlightjs: false
"""
UNSEEN = re.compile(r"<(script|style|svg|head)\b.*?</\1>", re.DOTALL)
BLOCK_ENDS = re.compile(r"</(?:p|h\d|li|td|th|dd|dt|div|section|label|legend)>")
TAG = re.compile(r"<[^>]+>")
SPECIAL = re.compile(r"([\\`*_{}\[\]<>#+!|&-])")


@dataclass(frozen=True)
class Stock:
    """The plain pages, and what MkDocs makes of them."""

    root: Path

    @property
    def site(self) -> Path:
        """The built pages, each named as in the site whose words it has."""
        return self.root / "site"

    def build(self) -> tuple[float, float]:
        """Build them. Give the seconds by the clock, and those of a processor."""
        return timed([sys.executable, "-m", "mkdocs", "build", "--quiet"], self.root)


def make(site: Path, root: Path) -> Stock:
    """Lay the plain pages of a built site down in an empty folder."""
    for page in site.rglob("*.html"):
        plain = (root / "pages" / page.relative_to(site)).with_suffix(".md")
        plain.parent.mkdir(parents=True, exist_ok=True)
        plain.write_text(words(page.read_text(encoding="utf-8")), encoding="utf-8")
    (root / "mkdocs.yml").write_text(SETTINGS, encoding="utf-8")
    return Stock(root)


def words(page: str) -> str:
    """What a reader of a page reads, as plain paragraphs of Markdown."""
    paragraphs = BLOCK_ENDS.split(UNSEEN.sub(" ", page))
    said = [" ".join(html.unescape(TAG.sub(" ", each)).split()) for each in paragraphs]
    return "# Plain\n\n" + "\n\n".join(SPECIAL.sub(r"\\\1", each) for each in said if each) + "\n"


def timed(command: list[str], folder: Path) -> tuple[float, float]:
    """Run a command to its end. Give the seconds by the clock, and those of a processor.

    On a busy machine the clock says little.
    """
    began, before = time.monotonic(), os.times()
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL)
    after = os.times()
    worked = after.children_user + after.children_system
    return time.monotonic() - began, worked - before.children_user - before.children_system
