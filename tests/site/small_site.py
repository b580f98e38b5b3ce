"""A small project of a host's own, bound into a site: two pages of ours, and what the host adds."""

from __future__ import annotations

from pathlib import Path

from build_tools.pages.handbook import Handbook, Page
from build_tools.pages.navigation import Group, NavItem, Section
from build_tools.setup.paths import ROOT
from build_tools.site.mkdocs_binding import bind

SETTINGS = (ROOT / "mkdocs.yml").read_text("utf-8")
NAME = 'Smith\'s <b>Handbook</b> & "Co"'  # invented
RULES = """# House rules

Who is told.[^1] See the [gas rate](../procedures/gas_rate.md).

## Vans

| Van | Gauges |
|-----|-------:|
| 1   | 2      |

!!! warning "Before you go"
    Check the ladder.

[^1]: The book lies in the office.
"""


def made() -> Handbook:
    """A handbook of two pages."""
    pages = [
        Page("index.html", "home", NAME, "All of it.", "<h1>Home</h1>"),
        Page(
            "procedures/gas_rate.html", "procedure", "Gas <rate>", "Time it.", "<h1>Gas rate</h1>"
        ),
    ]
    entry = NavItem("procedures/gas_rate.html", "Gas <rate>", "Time it.")
    group = Group("procedures", "Procedures", [Section("input", "Input", "", [entry])])
    bundle = {"edition": "2026-11-25 abc1234"}
    return Handbook(pages, [group], bundle, {}, {}, "procedures/gas_rate.html")


def bound(root: Path, changed: dict[str, str], files: dict[str, str], more: str, out: Path) -> None:
    """Bind it.

    Args:
        root: Where the project lies.
        changed: What of our `mkdocs.yml` the host has written otherwise.
        files: What it has put into `content/`.
        more: What it has added to `mkdocs.yml`.
        out: Where the site goes.
    """
    text = SETTINGS.replace("build_tools/theme", str(ROOT / "build_tools/theme"))
    for old, new in changed.items():
        assert old in text, old
        text = text.replace(old, new)
    (root / "mkdocs.yml").write_text(text + more, encoding="utf-8")
    for name, content in {"nothing.yaml": "", **files}.items():
        file = root / "content" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(content, encoding="utf-8")
    bind(made(), out, root)
