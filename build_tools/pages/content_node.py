"""One place of one YAML file, that can turn itself into text for a page."""

import posixpath
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup, escape

from build_tools.pages.page_context import PageContext
from build_tools.sources.problems import listing, rename_fix
from build_tools.sources.read_yaml import Document, KeyPath

# `{burner_pressure.tolerance}`: the value in force of a figure, set into a sentence.
PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
PROVENANCE_PAGE = "reference/standings.html"


@dataclass(frozen=True)
class ContentNode:
    """A value of a file, with the path that leads to it and what it may name."""

    document: Document
    page_context: PageContext
    path: str  # of the page it is shown on, for links
    key_path: KeyPath = ()

    def __getitem__(self, key: str | int) -> "ContentNode":
        return ContentNode(self.document, self.page_context, self.path, (*self.key_path, key))

    @property
    def value(self) -> Any:
        """What the file says here; nothing where it says nothing."""
        found = self.document.value
        for key in self.key_path:
            try:
                found = found[key]
            except (KeyError, IndexError, TypeError):
                return None
        return found

    def nodes(self) -> list["ContentNode"]:
        """The items of a list. One value alone counts as a list of one."""
        value = self.value
        if value is None:
            return []
        return [self[index] for index in range(len(value))] if isinstance(value, list) else [self]

    def text(self) -> Markup:
        """The text here, safe to stand in a page, with its figures filled in."""
        return self.fill(str(self.value or ""))

    def fill(self, words: str) -> Markup:
        """Words that reach this place from elsewhere, filled in and made safe in the same way."""
        pieces = PLACEHOLDER.split(words)
        filled = [
            self._filled(piece) if index % 2 else escape(piece)
            for index, piece in enumerate(pieces)
        ]
        return Markup("").join(filled)

    def texts(self) -> list[Markup]:
        """The texts of a list."""
        return [node.text() for node in self.nodes()]

    def figures(self) -> list[str]:
        """Names of the figures that stand here and below, in sentences."""
        return [name for name in _placeholders(self.value) if name in self.page_context.figures]

    def _filled(self, name: str) -> Markup:
        if not self.known(name, self.page_context.figures, "figure"):
            return escape("{" + name + "}")
        limit = self.page_context.limit(name)
        link = self.link(PROVENANCE_PAGE, name)
        provenance = Markup("")
        if limit.provenance != "published":
            words = limit.provenance.replace("-", " ")
            provenance = Markup('<span class="hb-value__provenance"> ({})</span>').format(words)
        value = Markup('<a class="hb-value" href="{}">{}{}</a>')
        return value.format(link, limit.text or limit.label, provenance)

    def known(self, name: str, names: Iterable[str], kind: str) -> bool:
        """Whether a name is one of those that exist. A problem is noted when it is not."""
        known = list(names)
        if name in known:
            return True
        self.problem(
            f"There is no {kind} '{name}'.",
            f"There are: {listing(known)}.",
            rename_fix(name, known, f"name one of those, or add the {kind}"),
        )
        return False

    def problem(self, found: str, expected: str, fix: str) -> None:
        """Note what is wrong here. The build goes on, so that one run shows every problem."""
        self.page_context.problems.append(
            self.document.problem(self.key_path, found, expected, fix)
        )

    def link(self, target: str, fragment: str = "") -> str:
        """Address of another page of the site, from this one."""
        address = posixpath.relpath(target, posixpath.dirname(self.path) or ".")
        return f"{address}#{fragment}" if fragment else address


def _placeholders(value: Any) -> list[str]:
    if isinstance(value, dict):
        return [name for each in value.values() for name in _placeholders(each)]
    if isinstance(value, list):
        return [name for each in value for name in _placeholders(each)]
    return PLACEHOLDER.findall(str(value or ""))
