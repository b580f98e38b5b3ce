"""One place of one YAML file, that can turn itself into text for a page."""

import posixpath
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Self

from markupsafe import Markup, escape

from build_tools.pages.page_context import PageContext
from build_tools.sources.node import Node
from build_tools.sources.problems import listing, rename_fix
from build_tools.sources.read_yaml import Document, KeyPath

# `{burner_pressure.tolerance}`: the value in force of a figure, set into a sentence.
PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
PROVENANCE_PAGE = "reference/standings.html"


@dataclass(slots=True)
class ContentNode(Node):
    """A value of a file, with the path that leads to it and what it may name."""

    page_context: PageContext
    path: str  # of the page it is shown on, for links

    @classmethod
    def whole_of(cls, document: Document, page_context: PageContext, path: str) -> Self:
        """All of a file, shown on a page."""
        return cls(document, (), document.value, page_context, path)

    def _at(self, key_path: KeyPath, value: Any) -> Self:
        return type(self)(self.document, key_path, value, self.page_context, self.path)

    def nodes(self) -> list[Self]:
        """The items of a list. One value alone counts as a list of one."""
        return self.items() if self.value is None or isinstance(self.value, list) else [self]

    @property
    def html(self) -> Markup:
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

    def htmls(self) -> list[Markup]:
        """The same of each text of a list."""
        return [node.html for node in self.nodes()]

    def figures(self) -> list[str]:
        """Names of the figures that stand here and below, in sentences."""
        names = [name for node in self.texts() for name in PLACEHOLDER.findall(node.text)]
        return [name for name in names if name in self.page_context.figures]

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
        """Whether a name exists that no rule looks up. A problem is noted when it does not."""
        known = list(names)
        if name in known:
            return True
        self.note(
            f"There is no {kind} '{name}'.",
            f"There are: {listing(known)}.",
            rename_fix(name, known, f"name one of those, or add the {kind}"),
        )
        return False

    def note(self, found: str, expected: str, fix: str) -> None:
        """Note what is wrong here. The build goes on, so that one run shows every problem."""
        self.page_context.problems.append(self.problem(found, expected, fix))

    def link(self, target: str, fragment: str = "") -> str:
        """Address of another page of the site, from this one."""
        address = posixpath.relpath(target, posixpath.dirname(self.path) or ".")
        return f"{address}#{fragment}" if fragment else address
