"""What a host sets of the site, in `mkdocs.yml` and in overlays: read strictly, as all YAML here.

The binder's own reader would make 37522 of the telephone number 0111222.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from build_tools.setup.paths import ROOT
from build_tools.sources import mark, picture
from build_tools.sources.overlays import Overlay
from build_tools.sources.read_yaml import get_path, read_file

SHORTEST = 12  # letters that fit under a picture on a device
SHORT_NAME = "Handbook"


Section = tuple[str, tuple[str, ...]]  # its title, and its pages as an overlay names them


@dataclass(frozen=True)
class Host:
    """The settings of one host. The rule `shape` holds them to what they must be."""

    site_name: str
    emergency_contact: str
    good_for_days: int
    colours: Mapping[str, str] = field(default_factory=dict)  # by key of `look`, as overlays say
    layers: tuple[str, ...] = ()  # names of the hosts whose overlays lie over the handbook
    mark: str = ""  # an SVG, of which nothing runs and nothing loads
    pages: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = ()  # Markdown, by who adds it
    pictures: tuple[tuple[str, bytes], ...] = ()  # of those pages, by name
    sections: tuple[tuple[str, tuple[Section, ...]], ...] = ()  # of the menu, by who adds them

    @property
    def short_name(self) -> str:
        """The name as it stands under a picture."""
        return self.site_name if len(self.site_name) <= SHORTEST else SHORT_NAME

    @property
    def file_name(self) -> str:
        """The name as part of the name of a file: plain letters, for every system there is."""
        plain = re.sub(r"[^a-z0-9]+", "_", self.site_name.lower()).strip("_")
        return plain or SHORT_NAME.lower()


def settings(root: Path = ROOT, overlays: Iterable[Overlay] = ()) -> Host:
    """What `mkdocs.yml` says, then each overlay.

    Of what is left out or wrong it has something that harms nobody.
    """
    value: Any = read_file(root / "mkdocs.yml", "mkdocs.yml").value
    days = str(get_path(value, "extra", "good_for_days"))
    host = Host(
        site_name=str(get_path(value, "site_name") or SHORT_NAME),
        emergency_contact=str(get_path(value, "extra", "emergency_contact") or ""),
        good_for_days=int(days) if days.isdecimal() else 1,
    )
    for overlay in overlays:
        host = _under(host, overlay)
    return host


def _under(host: Host, overlay: Overlay) -> Host:
    """The settings once an overlay is laid over them."""
    look: Any = overlay.settings.get("look")
    look = look if isinstance(look, dict) else {}
    drawing = overlay.marks.get(str(look.get("mark")))
    colours = {key: str(look[key]) for key in ("accent", "accent_dark") if key in look}
    own, made = tuple(sorted(overlay.markdown.items())), (*_sections(overlay),)
    return replace(
        host,
        site_name=overlay.host,
        layers=(*host.layers, overlay.host) if overlay.changes(host.site_name) else host.layers,
        emergency_contact=str(overlay.settings.get("emergency_contact") or host.emergency_contact),
        colours={**host.colours, **colours},
        mark=mark.cleaned(drawing) if drawing else host.mark,
        pages=(*host.pages, (overlay.host, own)) if own else host.pages,
        pictures=(*host.pictures, *_pictures(overlay)),
        sections=(*host.sections, (overlay.host, made)) if made else host.sections,
    )


def _pictures(overlay: Overlay) -> Iterator[tuple[str, bytes]]:
    """Its pictures, of each the parts that draw. What is none is left to the rules."""
    for name, content in sorted(overlay.pictures.items()):
        with suppress(picture.NoPictureError):
            yield name, picture.cleaned(content)


def _sections(overlay: Overlay) -> Iterator[Section]:
    listed: Any = overlay.settings.get("sections")
    for each in listed if isinstance(listed, list) else ():
        if isinstance(pages := get_path(each, "pages"), list):
            yield str(get_path(each, "title")), tuple(map(str, pages))
