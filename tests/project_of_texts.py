"""A project of a few small files, given as texts."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from build_tools.sources.calculator_spec import CalculatorSpec
from build_tools.sources.load_project import _layered
from build_tools.sources.overlays import FOLDER, MARK, MARKDOWN, PICTURE, Overlay, _made
from build_tools.sources.project import Project
from build_tools.sources.read_yaml import read_text


def from_texts(
    texts: Mapping[str, str], calculators: Mapping[str, CalculatorSpec], day: date
) -> Project:
    """A project given as texts: name of file to what it says."""
    above = {name: text for name, text in texts.items() if name.startswith(f"{FOLDER}/")}
    python = {name: text for name, text in texts.items() if name.startswith("calcs/")}
    markdown = {
        name: text for name, text in texts.items() if name.endswith(".md") and name not in above
    }
    yaml = {name: text for name, text in texts.items() if name not in python | markdown | above}
    return _layered(
        documents={name: read_text(text, name) for name, text in sorted(yaml.items())},
        layers=_overlays(above),
        python=python,
        markdown=markdown,
        day=day,
        given_calculators=calculators,
    )


def _overlays(texts: Mapping[str, str]) -> list[Overlay]:
    """Overlays given as texts: `overlays/NAME/…` to what that file says."""
    found: dict[str, dict[str, str]] = {}
    for file, text in texts.items():
        _, name, relative = file.split("/", 2)
        found.setdefault(name, {})[relative] = text
    return [
        _made(
            name,
            {f: read_text(t, f"{name}/{f}") for f, t in inner.items() if f.endswith(".yaml")},
            {f: t for f, t in inner.items() if MARKDOWN.fullmatch(f) or MARK.fullmatch(f)},
            [f for f in inner if not f.endswith(".yaml") and not _has_place(f)],
            {f: t.encode("latin-1") for f, t in inner.items() if PICTURE.fullmatch(f)},
        )
        for name, inner in found.items()
    ]


def _has_place(file: str) -> bool:
    return any(each.fullmatch(file) for each in (MARKDOWN, MARK, PICTURE))
