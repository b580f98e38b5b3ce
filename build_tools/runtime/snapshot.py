"""Has Node freeze the browser's Python, and proves that it answers as CPython does."""

import json
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from build_tools.runtime import node_programs, snapshot_cases
from build_tools.runtime.node_programs import AnswersDiffer
from calcs.bridge import Bridge

AROUND = 60  # letters shown on each side of a difference


def create(
    runtime: Path, library: Path, packages: Path, bundle: Mapping[str, Any], day: date
) -> bytes:
    """The memory of a Python that has answered every case.

    Args:
        runtime: Folder of the runtime's own files.
        library: Zip file of the standard library.
        packages: Folder of what it imports beside that.
        bundle: Figures and words.
        day: The day of the requests.

    Raises:
        AnswersDiffer: A reply is another than CPython's. All are compared, digit for digit.
        NodeStopped: Python in Node stopped.
    """
    text = json.dumps(bundle, ensure_ascii=False)
    bridge = Bridge(text)
    requests = snapshot_cases.requests(bridge, day)
    with TemporaryDirectory() as scratch, ThreadPoolExecutor(1) as beside:
        given, asked, made, replied = (
            Path(scratch, name) for name in ("bundle", "requests", "snapshot", "replies")
        )
        given.write_text(text, encoding="utf-8", newline="\n")
        asked.write_text(json.dumps(requests, ensure_ascii=False), encoding="utf-8")
        places = (runtime, library, packages, given, asked, made, replied)
        in_node = beside.submit(node_programs.run, "write_snapshot.mjs", *places)
        wanted = snapshot_cases.replies(bridge, requests)  # CPython works meanwhile
        in_node.result()
        found = json.loads(replied.read_text(encoding="utf-8"))
        for when, replies in found.items():
            _compare(when, requests, wanted, replies)
        return made.read_bytes()


def _compare(
    when: str, requests: Sequence[str], wanted: Sequence[str], found: Sequence[str]
) -> None:
    different = [*_differences(requests, wanted, found)]
    if different:
        listed = "\n".join(different)
        raise AnswersDiffer(f"Python {when} answers otherwise than CPython:\n{listed}")


def _differences(
    requests: Sequence[str], wanted: Sequence[str], found: Sequence[str]
) -> Iterator[str]:
    for request, there, here in zip(requests, wanted, found, strict=True):
        if here != there:
            pairs = enumerate(zip(there, here, strict=False))
            at = next((at for at, (a, b) in pairs if a != b), min(len(there), len(here)))
            part = slice(max(0, at - AROUND), at + AROUND)
            yield f"{request}\n  CPython: …{there[part]}…\n  here:    …{here[part]}…"
