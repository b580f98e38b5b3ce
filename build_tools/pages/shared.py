"""What every appliance of a visit shares, as the record's script asks for it.

The data say it of readings, the words of questions, checks and notes; of all else it follows. What
rests on anything of one appliance's is that appliance's own.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from build_tools.pages.checks import YES, readings_asked
from build_tools.pages.content_node import ContentNode
from build_tools.pages.page_context import PageContext
from build_tools.sources.project import stem_of
from build_tools.sources.read_yaml import texts_in


def keys(page_context: PageContext, pages: Iterable[ContentNode]) -> list[str]:
    """What is kept once for the whole visit, each as its kind and its name.

    Returns:
        `reading:NAME`, `choice:QUESTION`, `check:ID`, `note:ID`; `outcome:PROCEDURE.STEP`,
        `answer:CALCULATOR` and `tick:PROCEDURE` where nothing of an appliance goes in.
    """
    opened = list(pages)
    readings = {name for name, each in page_context.visit_record.items() if _says(each)}
    questions = {
        name: _says(each)
        for page in opened
        for name, each in (page["questions"].value or {}).items()
    }
    shared = readings | {name for name, is_shared in questions.items() if is_shared}
    own = ({*page_context.visit_record, *questions}) - shared
    return [
        *_keys("reading", (name for name in page_context.visit_record if name in readings)),
        *_keys("choice", (name for name, is_shared in questions.items() if is_shared)),
        *_keys("check", (each["id"] for each in _listed(opened, "checks") if _says(each))),
        *_keys("note", (each["id"] for each in _listed(opened, "written") if _says(each))),
        *_keys("outcome", _outcomes(page_context.bundle["steps"], own)),
        *_keys("answer", _answers(page_context, shared)),
        *_keys("tick", (stem_of(page.document.file) for page in opened if is_shared(page))),
    ]


def is_shared(page: ContentNode) -> bool:
    """Whether a page is a procedure that reads something, and nothing of one appliance."""
    asked = readings_asked(page)
    record = page.page_context.visit_record
    return bool(asked) and all(_says(record[name]) for name in asked)


def _outcomes(steps: Mapping[str, Any], own: set[str]) -> Iterator[str]:
    return (name for name, step in steps.items() if own.isdisjoint(texts_in(step)))


def _answers(page_context: PageContext, shared: set[str]) -> Iterator[str]:
    for stem, document in page_context.calculator_files.items():
        given = document.value.get("example", {}).get("given", {})
        named = {each for each in texts_in(given) if each in page_context.visit_record}
        if named and named <= shared:
            yield stem


def _says(value: Mapping[str, Any]) -> bool:
    return value.get("shared") == YES


def _listed(pages: Iterable[ContentNode], part: str) -> Iterator[Mapping[str, Any]]:
    for page in pages:
        yield from page[part].value or ()


def _keys(kind: str, names: Iterable[str]) -> list[str]:
    return [f"{kind}:{name}" for name in names]
