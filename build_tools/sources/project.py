"""The project's own files as the rules and the bundle see them, named from the root."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from fnmatch import fnmatch
from functools import cache, cached_property
from typing import Any

from build_tools.sources import overlays
from build_tools.sources.calculator_spec import CalculatorSpec, Failure, from_registry
from build_tools.sources.filled import Fill, filled, fills_of
from build_tools.sources.node import Node
from build_tools.sources.overlays import Overlay
from build_tools.sources.page_kinds import PAGE_KINDS
from build_tools.sources.problems import Problem
from build_tools.sources.read_yaml import Document
from build_tools.sources.schema import Schema, schema_of, walk

# What `cross_check` knows of how readings hang together, a file for each part.
CROSS_CHECK_PARTS = (
    *("errors", "figures", "quantities", "relations", "settling", "signatures"),
    "visit",  # of which readings of a visit it takes what it asks
)
CROSS_CHECK = tuple(f"cross_check_{part}" for part in CROSS_CHECK_PARTS)
# What kind of file each is, by its place. The first pattern that fits counts.
KINDS = {
    "limits": "data/limits/*.yaml",
    "gases": "data/gases.yaml",
    "table": "data/tables/*.yaml",
    "instruments": "data/instruments.yaml",
    **{f"cross_check_{part}": f"data/cross_check/{part}.yaml" for part in CROSS_CHECK_PARTS},
    "sources": "data/sources.yaml",
    "scenario": "data/scenario/*.yaml",
    "visit_record": "data/visit_record.yaml",
    "invented_card": "data/invented_card.yaml",
    **{kind.name: f"content/{kind.folder}/{kind.stem}.yaml" for kind in PAGE_KINDS},
    "diagram": "content/diagrams/*.yaml",
    "question": "content/questions/*.yaml",
    "paper": "content/papers/*.yaml",
    "slips": "content/_slips.yaml",
    "nav": "content/_nav.yaml",
    "home": "content/_home.yaml",
    "words": "content/_words.yaml",
    "proof": "tests/tables/*.yaml",
    "site": "mkdocs.yml",
}
NEVER = r"(?!)"  # a pattern that no text has
# What content/_words.yaml holds for calculators. Labels are laid under their own; what a calculator
# says is looked up there when it is said.
SHARED_LABELS, SHARED_SAYINGS = ("inputs",), ("notes", "rulings", "refusals")


@cache
def kind_of(file: str) -> str | None:
    """The kind of a file, or nothing where no kind has that place."""
    if file.startswith(f"{overlays.FOLDER}/"):
        return overlays.kind_of(file)
    return next((kind for kind, pattern in KINDS.items() if fnmatch(file, pattern)), None)


def stem_of(file: str) -> str:
    """`gas_rate` of `content/calculators/gas_rate.yaml`."""
    return file.rsplit("/", 1)[-1].split(".", 1)[0]


@dataclass(eq=False)
class Project:
    """Every YAML file of data, content and proof, and the text of every Python file of calcs."""

    documents: dict[str, Document]
    python: dict[str, str]
    undecoded: tuple[Problem, ...] = ()  # Python files that are no text
    markdown: dict[str, str] = field(default_factory=dict)  # pages that a host adds
    day: date = field(default_factory=lambda: datetime.now().astimezone().date())
    given_calculators: Mapping[str, CalculatorSpec] | None = None
    overlays: tuple[Overlay, ...] = ()  # whose files stand among the documents

    def of_kind(self, *kinds: str) -> Iterator[Document]:
        """Documents of these kinds that could be read as a mapping."""
        for file, document in self.documents.items():
            if kind_of(file) in kinds and isinstance(document.value, dict):
                yield document

    def nodes(self, *kinds: str) -> Iterator[Node]:
        """The whole of each of these documents."""
        for document in self.of_kind(*kinds):
            yield Node(document, (), document.value)

    def each(self, kinds: str | tuple[str, ...], *key_path: Any) -> Iterator[Node]:
        """Every place of such documents at the end of a path: see `Node.each`."""
        for node in self.nodes(*([kinds] if isinstance(kinds, str) else kinds)):
            yield from node.each(*key_path)

    @cached_property
    def forms(self) -> tuple[tuple[str, Node, Schema], ...]:
        """Every place that a file's kind has a form for: that kind, the place and the form."""
        found: list[tuple[str, Node, Schema]] = []
        for file, document in self.documents.items():
            kind = kind_of(file)
            if kind is not None and document.value is not None:
                whole = Node(document, (), document.value)
                found += [(kind, node, form) for node, form in walk(whole, schema_of(kind))]
        return tuple(found)

    def named(self, what: str) -> list[Node]:
        """Every text that names a figure, a page or whatever else `schemas/` knows names of."""
        return self._named.get(what, [])

    @cached_property
    def _named(self) -> dict[str, list[Node]]:
        found: dict[str, list[Node]] = {}
        for _, node, form in self.forms:
            is_name = "names" in form and not re.search(form.get("or", NEVER), node.text)
            if node.text and is_name:
                found.setdefault(form["names"], []).append(node)
        return found

    def are_whole(self, *kinds: str) -> bool:
        """Whether every file of these kinds could be read whole."""
        return not any(True for _ in self._half_read(kinds))

    def may_hold(self, name: str, *kinds: str) -> bool:
        """Whether a name stands in a file of these kinds that can't be read whole.

        Then it counts as there: whoever names it did nothing wrong.
        """
        return bool(name) and any(name in _words(text) for text in self._half_read(kinds))

    def may_match(self, pattern: re.Pattern[str], *kinds: str) -> bool:
        """The same for a pattern of names."""
        return any(pattern.fullmatch(w) for text in self._half_read(kinds) for w in _words(text))

    def _half_read(self, kinds: tuple[str, ...]) -> Iterator[str]:
        for file, document in self.documents.items():
            if not document.is_whole and kind_of(file) in kinds:
                yield document.text

    def files_with(self, name: str) -> list[str]:
        """The files that hold a name, wherever in them."""
        return self._holders.get(name, [])

    def stands_elsewhere(self, name: str, file: str) -> bool:
        """Whether a file other than this holds a name: sooner asked than which files do."""
        texts = ((other, text) for other, text in self._own_texts if other != file)
        return any(name in text and name in _words(text) for _, text in texts)

    @cached_property
    def _own_texts(self) -> list[tuple[str, str]]:
        """Each file of the handbook: what a host names says nothing of its own names."""
        texts = {file: each.text for file, each in self.documents.items() if not each.at}
        return sorted({**texts, **self.python}.items())

    @cached_property
    def _holders(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for file, text in self._own_texts:
            for word in _words(text):
                found.setdefault(word, []).append(file)
        return found

    @cached_property
    def python_files(self) -> frozenset[str]:
        """Names of the files of calcs, those that can't be read with them."""
        return frozenset({*self.python, *(problem.file for problem in self.undecoded)})

    def stems(self, *kinds: str) -> set[str]:
        """Stems of the files of these kinds, whatever is in them."""
        return {stem_of(file) for file in self.documents if kind_of(file) in kinds}

    @cached_property
    def words(self) -> tuple[Node, ...]:
        """Every text in `content/`, and all that a host says in words."""
        kinds = ("overlay", "words_of", "outcomes")
        hosts = [node for whole in self.nodes(*kinds) for node in whole.texts()]
        return (*self.texts("content/"), *hosts)

    def texts(self, *folders: str) -> Iterator[Node]:
        """Every text in these folders."""
        for file, document in self.documents.items():
            if file.startswith(folders):
                yield from Node(document, (), document.value).texts()

    def one(self, kind: str) -> dict[str, Any]:
        """What the one file of a kind says; empty when it isn't there."""
        return next((document.value for document in self.of_kind(kind)), {})

    @cached_property
    def figures(self) -> dict[str, Any]:
        """Every figure by name. A figure that isn't a mapping is left to the shape rule."""
        found: dict[str, Any] = {}
        for document in self.of_kind("limits", "gases"):
            for name, figure in document.value.items():
                if isinstance(figure, dict):
                    found.setdefault(name, figure)
        return filled(found, self.fills("figures_filled"))

    @cached_property
    def tables(self) -> dict[str, Any]:
        """Every data table by stem."""
        found = {stem_of(document.file): document.value for document in self.of_kind("table")}
        return filled(found, self.fills("table_filled"))

    def fills(self, *kinds: str) -> Iterator[Fill]:
        """What hosts fill in of what is not held."""
        for file, document in self.documents.items():
            kind = kind_of(file)
            if kind in kinds and isinstance(document.value, dict):
                yield from fills_of(document, kind, self.host_of(document))

    def host_of(self, document: Document) -> str:
        """The name of the host whose file it is; empty where it is the handbook's own."""
        return next((each.host for each in self.overlays if document.place in each.documents), "")

    @property
    def calculators(self) -> Mapping[str, CalculatorSpec]:
        """What each calculator declares that can be loaded."""
        return self._declarations[0]

    @property
    def calcs_failures(self) -> tuple[Failure, ...]:
        """Why the others can't."""
        return self._declarations[1]

    @property
    def has_no_engine(self) -> bool:
        """Whether what all calculators run in can't be loaded."""
        return any(not failure.calculator for failure in self.calcs_failures)

    @cached_property
    def _declarations(self) -> tuple[Mapping[str, CalculatorSpec], tuple[Failure, ...]]:
        return from_registry() if self.given_calculators is None else (self.given_calculators, ())

    @cached_property
    def sources(self) -> dict[str, Any]:
        """Every source by id, those of hosts with them."""
        added = [each.value for each in self.of_kind("host_sources")]
        return {**{k: v for each in added for k, v in each.items()}, **self.one("sources")}


@cache
def _words(text: str) -> frozenset[str]:
    """Everything in a text that may be a name, with and without its dots."""
    found = re.findall(r"[\w.]+", text)
    return frozenset({*found, *(each.strip(".") for each in found)})
