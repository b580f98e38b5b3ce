"""Draws a drawing by its name. One drawing a file; the file's name is the drawing's.

A drawing is a module with `PARAMS`, the params that it takes, and `draw(sheet, params, figures)`.
Numbers in it come from figures and readings through `numbers`, never from the module.
"""

import importlib
import pkgutil
import re
from collections.abc import Mapping
from datetime import date
from types import ModuleType
from typing import Any

from build_tools import diagrams
from build_tools.diagrams.given import Figures, read, unknown
from build_tools.diagrams.kit import Sheet
from build_tools.sources.days import build_day

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
# Of the drawing kit: the modules here that are no drawing.
PARTS = ("draw", "kit", "svg", "given", "flue_parts")


def names() -> list[str]:
    """Every drawing that there is."""
    found = (module.name for module in pkgutil.iter_modules(diagrams.__path__))
    return sorted(name for name in found if name not in PARTS)


def draw(
    name: str,
    params: Mapping[str, Any],
    *,
    figures: Mapping[str, Any],
    prefix: str,
    title: str,
    alt: str,
    readings: Mapping[str, Any] | None = None,
    tables: Mapping[str, Any] | None = None,
    day: date | None = None,
) -> str:
    """One drawing as SVG text, ready to stand in a page.

    Args:
        name: The drawing, as `draw` of a file in content/diagrams says.
        params: What its file says under `params`.
        figures: Figures as the bundle holds them.
        prefix: Put before the ids in it; each drawing on a page needs its own.
        title: Its name.
        alt: What it shows, in words. `{name}` in it stands for the figure of that name.
        readings: Readings of the invented visit, for the drawings that show some.
        tables: Tables as the bundle holds them, for the drawings that show some of one.
        day: The day whose figures it shows; the day of the build where none is given.

    Raises:
        DrawingProblem: There is no such drawing, param, figure or reading.
    """
    numbers = Figures(figures, readings or {}, day or build_day(), tables or {})
    return sheet(name, params, numbers, Sheet(prefix, title, filled(alt, numbers))).svg()


def filled(text: str, figures: Figures) -> str:
    """A text with the figures that it names in braces."""
    return PLACEHOLDER.sub(lambda found: figures.text(found[1]), text)


def sheet(name: str, params: Mapping[str, Any], figures: Figures, blank: Sheet) -> Sheet:
    """A drawing before it is written out, so that tests can measure it."""
    module = _module(name)
    module.draw(blank, read(params, module.PARAMS), figures)
    return blank


def _module(name: str) -> ModuleType:
    known = names()
    if name not in known:
        raise unknown("drawing", name, known)
    return importlib.import_module(f"{diagrams.__name__}.{name}")
