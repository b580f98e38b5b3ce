"""What a host sets of the site, in `mkdocs.yml`: read strictly, as all that is YAML here.

The binder's own reader would make 37522 of the telephone number 0111222.
"""

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from build_tools.setup.paths import ROOT
from build_tools.sources.read_yaml import get_path, read_file

SHORTEST = 12  # letters that fit under a picture on a device
SHORT_NAME = "Handbook"


@dataclass(frozen=True)
class Host:
    """The settings of one host. The rule `shape` holds them to what they must be."""

    site_name: str
    emergency_contact: str
    good_for_days: int

    @property
    def short_name(self) -> str:
        """The name as it stands under a picture."""
        return self.site_name if len(self.site_name) <= SHORTEST else SHORT_NAME

    @property
    def file_name(self) -> str:
        """The name as part of the name of a file: plain letters, for every system there is."""
        plain = re.sub(r"[^a-z0-9]+", "_", self.site_name.lower()).strip("_")
        return plain or SHORT_NAME.lower()


def settings(root: Path = ROOT) -> Host:
    """What `mkdocs.yml` says; of what is left out or wrong, something that harms nobody."""
    value: Any = read_file(root / "mkdocs.yml", "mkdocs.yml").value
    days = str(get_path(value, "extra", "good_for_days"))
    return Host(
        site_name=str(get_path(value, "site_name") or SHORT_NAME),
        emergency_contact=str(get_path(value, "extra", "emergency_contact") or ""),
        good_for_days=int(days) if days.isdecimal() else 1,
    )
