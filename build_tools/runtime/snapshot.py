"""Has Node freeze the browser's Python, and proves that it answers as CPython does."""

import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from build_tools.runtime.node_programs import AnswersDiffer, Begun

AROUND = 60  # letters shown on each side of a difference
Cases = Sequence[tuple[str, str]]  # requests, each with CPython's reply


class Python:
    """One in Node, which starts and imports other people's packages while calcs is made ready.

    Args:
        runtime: Folder of the runtime's own files.
        library: Zip file of the standard library.
        packages: Folder of other people's packages.
        scratch: Folder for what it writes.
    """

    def __init__(self, runtime: Path, library: Path, packages: Path, scratch: Path) -> None:
        self._made, self._replied = scratch / "snapshot", scratch / "replies"
        places = (runtime, library, packages, self._made, self._replied)
        self._begun = Begun("write_snapshot.mjs", *places)

    def frozen(self, calcs: Path, bundle: Mapping[str, Any], cases: Cases) -> bytes:
        """Its memory once it has answered every case.

        Args:
            calcs: Folder of the calculators.
            bundle: Figures and words.
            cases: What it is asked.

        Raises:
            AnswersDiffer: A reply is another than CPython's. All are compared, digit for digit.
            NodeStopped: Python in Node stopped.
        """
        text = json.dumps(bundle, ensure_ascii=False)
        requests = [request for request, _ in cases]
        given = {"calcs": str(calcs), "bundle": text, "requests": requests}
        self._begun.ended(json.dumps(given))
        found = json.loads(self._replied.read_text(encoding="utf-8"))
        for when, replies in found.items():
            _compare(when, cases, replies)
        return self._made.read_bytes()


def _compare(when: str, cases: Cases, found: Sequence[str]) -> None:
    different = [*_differences(cases, found)]
    if different:
        listed = "\n".join(different)
        raise AnswersDiffer(f"Python {when} answers otherwise than CPython:\n{listed}")


def _differences(cases: Cases, found: Sequence[str]) -> Iterator[str]:
    for (request, there), here in zip(cases, found, strict=True):
        if here != there:
            pairs = enumerate(zip(there, here, strict=False))
            at = next((at for at, (a, b) in pairs if a != b), min(len(there), len(here)))
            part = slice(max(0, at - AROUND), at + AROUND)
            yield f"{request}\n  CPython: …{there[part]}…\n  here:    …{here[part]}…"
