"""What was found without fault before, so that it need not be looked at again.

Only passes are kept, by hash: of what was looked at, of all the code that looks, and of the day. A
rule that looks at each file alone is given that file alone, so it can lean on nothing that the hash
does not hold.
"""

import hashlib
import json
import os
import sys
import sysconfig
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from urllib.parse import quote, unquote

from build_tools.setup.paths import CACHE, ROOT
from build_tools.sources.project import Project, kind_of
from build_tools.sources.read_yaml import Document

FILE = CACHE / "passed.txt"
KEPT = 20_000  # hashes, the latest: each edit adds a few
CODE = ("build_tools", "calcs")
CODE_WITHOUT_FORMULAS = ("build_tools/setup", "build_tools/sources", "calcs/engine")
SEEN, BETWEEN = ":", ","  # after a hash: the names of what was seen
Said = Callable[[str], str]
NOT_OURS = {"node_modules", "__pycache__"}


class Passed:
    """The hashes of what passed.

    Args:
        known: Those of earlier runs, the oldest first.
        code: Of the code that looks.
        without_formulas: The same but for the formulas, which a rule that is shown some files of
            words and numbers can't ask.
    """

    def __init__(
        self, known: Iterable[str] = (), code: str = "", without_formulas: str | None = None
    ) -> None:
        self._known = dict.fromkeys(known)
        self._seen = dict(one.split(SEEN, 1) for one in self._known if SEEN in one)
        self.code = code
        self.without_formulas = code if without_formulas is None else without_formulas

    def key(self, *of: str, asks_formulas: bool = True) -> str:
        """The hash of what is looked at, by this code."""
        return hashed(self.code if asks_formulas else self.without_formulas, *of)

    def holds(self, key: str) -> bool:
        """Whether it passed before."""
        return key in self._known

    def add(self, key: str) -> None:
        """It has passed."""
        self._known[key] = None

    def holds_of(self, key: str, said: Said) -> bool:
        """The same of what looks at some things among many, while those say what they said.

        Args:
            key: The hash of all the rest that is looked at.
            said: Gives what each says now.
        """
        return key in self._seen and self.holds(_with(key, self._seen[key], said))

    def add_of(self, key: str, seen: Iterable[str], said: Said) -> None:
        """It has passed, and has looked at these."""
        names = BETWEEN.join(map(quote, sorted(seen)))
        self._known.pop(f"{key}{SEEN}{self._seen.get(key)}", None)
        self._seen[key] = names
        self.add(f"{key}{SEEN}{names}")
        self.add(_with(key, names, said))

    def __str__(self) -> str:
        return "\n".join([*self._known][-KEPT:])


def _with(key: str, names: str, said: Said) -> str:
    return hashed(key, names, *map(said, map(unquote, names.split(BETWEEN) if names else ())))


def of_earlier_runs() -> Passed:
    """What passed before this code, in the cache of this project."""
    known = FILE.read_text("ascii").split() if FILE.exists() else []
    return Passed(known, code_of(), code_of(folders=CODE_WITHOUT_FORMULAS))


def hashed(*texts: str) -> str:
    """One hash of texts, of which each ends where it ends."""
    total = hashlib.sha256()
    for text in texts:
        whole = text.encode("utf-8", "surrogatepass")
        total.update(f"{len(whole)}:".encode() + whole)
    return total.hexdigest()


def code_of(root: Path = ROOT, folders: Iterable[str] = CODE) -> str:
    """The hash of all that looks: rules, forms, sheets, formulas, Python and its packages."""
    total = hashlib.sha256(f"{sys.version} {sys.platform}".encode())
    packages = Path(sysconfig.get_paths()["purelib"]).glob("*.dist-info")
    total.update(" ".join(sorted(each.name for each in packages)).encode())
    top = f"{root}{os.sep}"
    for file in sorted(_code(top, folders)):
        content = Path(file).read_bytes()
        name = file.removeprefix(top).replace(os.sep, "/")
        total.update(f"{name} {len(content)} ".encode() + content)
    return total.hexdigest()


def _code(top: str, folders: Iterable[str]) -> Iterator[str]:
    for folder in folders:
        for path, inside, names in os.walk(top + folder.replace("/", os.sep)):
            inside[:] = [each for each in inside if each not in NOT_OURS]
            yield from (f"{path}{os.sep}{name}" for name in names)


def hash_of(document: Document) -> str:
    """The hash of one file, and of what it says once hosts have filled in what it leaves open."""
    said = json.dumps(document.value, ensure_ascii=False)
    return hashed(document.place, document.file, document.text, said)


def _empty(project: Project) -> Project:
    """The project without its files, to lay some of them into."""
    return replace(
        project,
        documents={},
        python={},
        undecoded=(),
        markdown={},
        given_calculators={},
        overlays=(),
    )


def alone(project: Project) -> Iterator[tuple[str, Project]]:
    """Each file as a project of its own, with its hash."""
    bare = _empty(project)
    for place, document in project.documents.items():
        yield hash_of(document), replace(bare, documents={place: document})
    for file, text in project.python.items():
        yield hashed(file, text), replace(bare, python={file: text})
    for file, text in project.markdown.items():
        yield hashed(file, text), replace(bare, markdown={file: text})


@lru_cache(maxsize=2)
def without_markdown(project: Project) -> Project:
    """The project with the names alone of its pages in Markdown: nothing else sees more.

    The same one each time, so that what it works out of itself is worked out once.
    """
    layers = tuple(
        replace(layer, markdown=dict.fromkeys(layer.markdown, ""), pictures={})
        for layer in project.overlays
    )
    return replace(project, markdown=dict.fromkeys(project.markdown, ""), overlays=layers)


def markdown_of(project: Project) -> Project:
    """Those pages alone, with their pictures."""
    layers = tuple(
        replace(layer, documents={}, marks={}, problems=()) for layer in project.overlays
    )
    return replace(_empty(project), markdown=project.markdown, overlays=layers)


def hash_of_markdown(project: Project) -> str:
    """The hash of those pages and of their pictures."""
    texts = [text for file in project.markdown.items() for text in file]
    return hashed(*texts, "", *_pictures(project))


def _pictures(project: Project) -> Iterator[str]:
    for layer in project.overlays:
        for name, content in sorted(layer.pictures.items()):
            yield f"{layer.name}\0{name}\0{hashlib.sha256(content).hexdigest()}"


def calcs_of(project: Project) -> tuple[Project, str]:
    """The formulas and what they declare, with their hash."""
    python, declared = project.python, project.calculators
    texts = [text for file in python.items() for text in file]
    return replace(_empty(project), python=python, given_calculators=declared), hashed(*texts)


def kinds_of(project: Project, kinds: tuple[str, ...]) -> tuple[Project, str]:
    """The files of some kinds, with their hash."""
    kept = {place: each for place, each in project.documents.items() if kind_of(place) in kinds}
    return replace(_empty(project), documents=kept), hashed(*map(hash_of, kept.values()))


def hash_of_all(project: Project) -> str:
    """The hash of all files of a project and of its overlays, and of its day."""
    problems = [str(each) for layer in project.overlays for each in layer.problems]
    marks = [f"{k}\0{v}" for layer in project.overlays for k, v in sorted(layer.marks.items())]
    names = [layer.name for layer in project.overlays]
    files = [hash_of(document) for document in project.documents.values()]
    texts = [f"{k}\0{v}" for part in (project.python, project.markdown) for k, v in part.items()]
    undecoded = [str(each) for each in project.undecoded]
    return hashed(
        *(str(project.day), *names, "", *marks, "", *problems, "", *undecoded, *files, *texts),
        *("", *_pictures(project)),
    )
