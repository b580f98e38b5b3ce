"""What the command `build` would refuse beyond the rules: formulas that fail, pages that can't be.

The rules look at what is written. Here each worked example is run and each page is put together,
as the build does, and nothing is kept.
"""

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from build_tools.runtime import bundle as bundles
from build_tools.site import trial_fills, trial_questions
from build_tools.sources.calculator_spec import failure_of
from build_tools.sources.days import example_day
from build_tools.sources.passed import Passed
from build_tools.sources.problems import Problem
from build_tools.sources.project import Project, kind_of, stem_of
from build_tools.sources.watched import Watch
from build_tools.sources.worked_example import examples

FIX = "look at this line: the quantities in it must fit each other, and what the example gives"


def tried(
    project: Project, problems: Iterable[Problem], passed: Passed | None = None
) -> list[Problem]:
    """These problems, and what comes to light when the examples are run and the pages made.

    Args:
        project: All files.
        problems: What the rules found. What may come of it is not told a second time.
        passed: What passed before, which is not tried again.
    """
    passed = passed or Passed()
    found = [*problems]
    wrong = {problem.file for problem in found}
    if not any(_reaches_all(file) for file in wrong):
        found += _called("example-runs", _examples(project, wrong, passed))
    found = found or _called("filled-as-typed", trial_fills.tried(project))
    found = found or _called("page-made", _pages(project, passed))
    return found or _called("question-drawn", trial_questions.tried(project, passed))


def _called(name: str, problems: Iterable[Problem]) -> list[Problem]:
    """These problems, with the name of the trial that brought them to light."""
    return [replace(each, rule=name) for each in problems]


def _reaches_all(file: str) -> bool:
    """Whether a file that is wrong may be why an example of any calculator fails."""
    if file.startswith("calcs/"):
        return not file.startswith("calcs/calculators/")
    return kind_of(file) in {*bundles.BUNDLED, "scenario"} - {"calculator"}


def _examples(project: Project, wrong: set[str], passed: Passed) -> Iterator[Problem]:
    """Run the example of each calculator whose own files are sound."""
    from calcs.engine.reference import Reference  # noqa: PLC0415  calcs may be half written

    contents, known = bundles.contents(project), examples(project)
    today = example_day(contents, project.day)
    packed = json.loads(json.dumps({"edition": "", **contents}))
    watch = Watch(packed)
    beside, watched = json.dumps(watch.beside()), watch.over(packed)
    for document in project.of_kind("calculator"):
        stem = stem_of(document.file)
        key = passed.key("example", stem, beside, json.dumps(known[stem]), str(today))
        is_sound = stem in project.calculators and not wrong & {document.file, formula_of(stem)}
        if is_sound and not passed.holds_of(key, watch.said):
            watch.seen.clear()  # and a reference of its own, which remembers nothing
            found = [*_example(stem, known[stem], Reference(watched), today)]
            if not found:
                passed.add_of(key, watch.seen, watch.said)
            yield from found


def formula_of(stem: str) -> str:
    """The file of a calculator's formula."""
    return f"calcs/calculators/{stem}.py"


def _example(
    stem: str, inputs: Mapping[str, Any], reference: Any, today: date
) -> Iterator[Problem]:
    """A refusal is left to the pages, which name its field; a failure is told by its line."""
    from calcs.engine import answer, registry  # noqa: PLC0415  calcs may be half written
    from calcs.engine.errors import Refused  # noqa: PLC0415

    try:
        _, rest = answer.begin(registry.load(stem), reference, inputs, today)
        rest()
    except Refused:
        return
    except Exception as problem:  # noqa: BLE001  a formula may raise anything
        failure = failure_of(stem, problem)
        said = failure.message.rstrip(".")
        found = f"The formula of '{stem}' fails with its worked example: {said}."
        yield Problem(failure.file, failure.line, 1, "", found, "", FIX)


def _pages(project: Project, passed: Passed) -> list[Problem]:
    from build_tools.site import trial_pages  # noqa: PLC0415  it imports calcs

    return trial_pages.tried(project, passed)
