"""Reads a YAML file strictly: every value stays text, and every place is remembered.

A plain YAML loader turns `2:30` into 150, `010` into 8, `no` into false and `9.10` into 9.1, and
keeps the last of two equal keys without a word. This reader does none of that. It builds the tree
from PyYAML's events, so a value is a mapping, a list or the text as written.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from build_tools.sources.problems import Problem
from build_tools.sources.read_before import FILE, ReadBefore

KeyPath = tuple[str | int, ...]  # the path to a value: ("inputs", "volume", "label")
LOADER: Any = getattr(yaml, "CLoader", yaml.Loader)  # the C parser gives the same events, faster
read_before = ReadBefore(FILE, yaml.__version__.encode() + Path(__file__).read_bytes())


class Mark(NamedTuple):
    """Where something starts in its file, counted from 1 as editors do."""

    line: int
    column: int


START = Mark(1, 1)


class Places(NamedTuple):
    """Where the keys of a file stand, and where its values."""

    keys: dict[KeyPath, Mark]
    values: dict[KeyPath, Mark]


NOWHERE = Places({}, {})


@dataclass
class Document:
    """What one file says, where each part of it stands, and what stops it being read."""

    file: str
    value: Any = None
    problems: list[Problem] = field(default_factory=list)
    text: str = field(default="", repr=False)  # as it stands in the file
    at: str = ""  # where it counts as standing: see `overlays.place_of`
    read_places: Places | None = field(default=None, repr=False, compare=False)

    @property
    def places(self) -> Places:
        """Where each part stands. Little but a fault asks for it, so it is read when one does."""
        if self.read_places is None:
            self.read_places = read_text(self.text, self.file).read_places
        return self.read_places or NOWHERE

    @property
    def place(self) -> str:
        """The place that says of which kind it is: of a file of the project, its name."""
        return self.at or self.file

    @property
    def is_whole(self) -> bool:
        """Whether all that the file says was read, and it has keys as every kind of file has."""
        return not self.problems and isinstance(self.value, dict)

    def mark(self, key_path: KeyPath, *, key: bool = False) -> Mark:
        """The place of a value (or of its key); of the nearest part above it when it is absent."""
        for length in range(len(key_path), -1, -1):
            of_keys, of_values = self.places
            for marks in (of_keys, of_values) if key else (of_values, of_keys):
                if key_path[:length] in marks:
                    return marks[key_path[:length]]
        return START

    def problem(
        self, key_path: KeyPath, found: str, expected: str, fix: str, *, key: bool = False
    ) -> Problem:
        """A problem at one place of this file."""
        mark = self.mark(key_path, key=key)
        return Problem(self.file, mark.line, mark.column, dotted(key_path), found, expected, fix)


def dotted(key_path: KeyPath) -> str:
    """`steps[2].do`: the path to a value as an author would say it."""
    text = ""
    for part in key_path:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}"
    return text.removeprefix(".")


def get_path(value: Any, *key_path: str | int) -> Any:
    """The part of a tree at the end of a path, or nothing where the tree is not like that."""
    for part in key_path:
        try:
            value = value[part]
        except (KeyError, IndexError, TypeError):
            return None
    return value


def texts_in(value: Any) -> Iterator[str]:
    """Every key and every text in a tree, however deep."""
    if isinstance(value, str):
        yield value
        return
    if isinstance(value, Mapping):
        yield from value
        value = value.values()
    for each in value if isinstance(value, Iterable) else ():
        yield from texts_in(each)


def read_file(path: Path, file: str) -> Document:
    """Read one file. `file` is its name as problems show it."""
    return _read(path.read_bytes(), file)


@lru_cache(maxsize=4096)
def _read(content: bytes, file: str) -> Document:
    """The file with this content. No one changes a document, so one will do."""
    tree = read_before.get(content)
    if tree is not None:
        return Document(file, tree, text=_as_read(content.decode("utf-8-sig")))
    document = _read_anew(content, file)
    if document.is_whole:
        read_before.add(content, document.value)
    return document


def _read_anew(content: bytes, file: str) -> Document:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        problem = not_utf_8(file, content, error)
        return Document(
            file, problems=[problem], text=content.decode("utf-8", "replace"), read_places=NOWHERE
        )
    return read_text(text, file)


def not_utf_8(file: str, content: bytes, error: UnicodeDecodeError) -> Problem:
    """What is told of a file whose bytes are no text."""
    before = content[: error.start]
    line, column = before.count(b"\n") + 1, error.start - before.rfind(b"\n")
    found = f"This byte, number {error.start + 1} of the file, is not UTF-8."
    fix = "write this character anew and save the file as UTF-8"
    return Problem(file, line, column, "", found, "", fix)


def read_text(text: str, file: str) -> Document:
    """Read the text of one file. What can't be read is in `problems`, not raised."""
    text, places = _as_read(text), Places({}, {})
    document = Document(file, problems=list(_tabs(text, file)), text=text, read_places=places)
    if document.problems:
        return document
    try:
        _Builder(document, places, yaml.parse(text, Loader=LOADER)).build()
    except yaml.MarkedYAMLError as error:
        document.value = None
        document.problems.append(_syntax(error, file))
    except yaml.reader.ReaderError as error:
        document.value = None
        line = text[: error.position].count("\n") + 1
        code = error.character if isinstance(error.character, int) else ord(error.character)
        found = f"The character U+{code:04X} can't stand in a YAML file."
        document.problems.append(Problem(file, line, 1, "", found, "", "delete it"))
    return document


def _as_read(text: str) -> str:
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def _tabs(text: str, file: str) -> Iterator[Problem]:
    for number, line in enumerate(text.split("\n"), start=1):
        if "\t" in line:
            found, fix = "There is a tab here.", "use spaces, two for each level"
            yield Problem(file, number, line.index("\t") + 1, "", found, "", fix)


def _syntax(error: yaml.MarkedYAMLError, file: str) -> Problem:
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    found = f"The file can't be read as YAML from here: {error.problem}."
    fix = "look at this line and the one above it: a quote, a bracket, a colon or the indent"
    return Problem(file, line, column, "", found, "", fix)


class _Builder:
    """Turns the events of one file into a tree and a map of places."""

    def __init__(self, document: Document, places: Places, events: Iterator[Any]) -> None:
        self.document = document
        self.places = places
        self.events = events
        self.making: dict[type, Callable[[Any, KeyPath], Any]] = {
            yaml.ScalarEvent: self._scalar,
            yaml.SequenceStartEvent: self._sequence,
            yaml.MappingStartEvent: self._mapping,
            yaml.AliasEvent: self._alias,
        }

    def build(self) -> None:
        documents = 0
        for event in self.events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self._refuse(event, (), "A second document starts here.", "delete the line ---")
            elif type(event) in self.making:
                value = self._value(event, ())
                self.document.value = value if documents == 1 else self.document.value
        if documents == 0:
            fix = "write its first key, or delete the file"
            self.document.problems.append(
                Problem(self.document.file, 1, 1, "", "The file is empty.", "", fix)
            )

    def _refuse(self, event: Any, key_path: KeyPath, found: str, fix: str) -> None:
        line, column = event.start_mark.line + 1, event.start_mark.column + 1
        self.document.problems.append(
            Problem(self.document.file, line, column, dotted(key_path), found, "", fix)
        )

    def _value(self, event: Any, key_path: KeyPath) -> Any:
        mark = event.start_mark
        self.places.values.setdefault(key_path, Mark(mark.line + 1, mark.column + 1))
        if not isinstance(event, yaml.AliasEvent):
            if event.anchor:
                fix = "delete the anchor and write the value out where it is needed"
                self._refuse(event, key_path, f"There is an anchor, '&{event.anchor}'.", fix)
            if event.tag:
                found, fix = (
                    f"There is a tag, '{event.tag}'.",
                    "delete the tag: every value is text",
                )
                self._refuse(event, key_path, found, fix)
        return self.making[type(event)](event, key_path)

    def _scalar(self, event: Any, _way: KeyPath) -> str:
        return str(event.value)

    def _alias(self, event: Any, key_path: KeyPath) -> str:
        self._refuse(
            event, key_path, f"There is an alias, '*{event.anchor}'.", "write the value out here"
        )
        return ""

    def _sequence(self, event: Any, key_path: KeyPath) -> list[Any]:
        items: list[Any] = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            items.append(self._value(event, (*key_path, len(items))))
        return items

    def _mapping(self, event: Any, key_path: KeyPath) -> dict[str, Any]:
        mapping: dict[str, Any] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            key = self._key(event, key_path)
            value = self._value(next(self.events), (*key_path, key))
            if key in mapping:
                first = self.places.keys[*key_path, key].line
                found = f"'{key}' is here a second time. The first is on line {first}."
                self._refuse(event, (*key_path, key), found, "keep one of them")
                continue
            mark = event.start_mark
            self.places.keys[*key_path, key] = Mark(mark.line + 1, mark.column + 1)
            mapping[key] = value
        return mapping

    def _key(self, event: Any, key_path: KeyPath) -> str:
        if not isinstance(event, yaml.ScalarEvent):
            self._refuse(
                event, key_path, "A key here is not plain text.", "write a name before the colon"
            )
            self._value(event, (*key_path, ""))
            return ""
        if event.anchor or event.tag:
            self._refuse(event, key_path, f"'{event.value}' has an anchor or a tag.", "delete it")
        if event.value == "<<" and not event.style:
            fix = "write the keys out here"
            self._refuse(event, key_path, "There is a merge key, '<<'.", fix)
        return str(event.value)
