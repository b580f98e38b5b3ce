"""The command `check`: hold every file against every rule, and say all that is wrong at once.

What passes here is built: the examples are run and the pages put together too. Editors are told
what there is, so that they say the most of it while an author types. Tools are told the same as an
author, in one JSON text: `tests/sources/check.schema.json` is its shape.
"""

import gc
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from build_tools.runtime.cache import write_whole
from build_tools.setup.paths import ROOT
from build_tools.site.trial import tried
from build_tools.sources import overlays
from build_tools.sources.advice import advice_on
from build_tools.sources.days import build_day
from build_tools.sources.editor_schemas import FOLDER, editor_schemas, editor_settings
from build_tools.sources.known_names import known_names
from build_tools.sources.load_project import load
from build_tools.sources.passed import (
    FILE,
    Passed,
    code_of,
    hash_of_all,
    hashed,
    of_earlier_runs,
    without_markdown,
)
from build_tools.sources.problems import ADVICE, REFUSAL, Problem, in_order, report
from build_tools.sources.project import Project
from build_tools.sources.rule import check_all, check_markdown, rules

TOLD = f"{FOLDER}/told.txt"  # the hash of all that editors were last told
SETTINGS = ".vscode/settings.json"  # where one editor looks. Others take the same `yaml.schemas`

FORM = 1  # of what tools are told; it goes up when an older tool could not read it
REFUSED, ADVISED = 1, 3  # exit statuses; 2 says that a command was asked for wrongly


def main(overlay: Sequence[Path] = (), *, advice: bool = False, json: bool = False) -> int:
    """Print every problem.

    Args:
        overlay: Folders of overlays, the lowest first.
        advice: Whether advice is told too, and counts for the exit status.
        json: Whether it is told to a tool.

    Returns:
        The exit status: 0 where nothing is refused, 1 where something is, and 3 where there is
        advice alone and it was asked for.
    """
    with no_collecting():
        project = load(layers=overlays.read(overlay))
        refusals, advised = refused(project, overlay), advice_on(project)
    if json:
        print(for_tools(project, overlay, [*refusals, *advised]))
    else:
        for line in _lines(project, refusals, advised, is_told=advice):
            print(line)
    if refusals:
        return REFUSED
    return ADVISED if advice and advised else 0


@contextmanager
def no_collecting() -> Iterator[None]:
    """It lives for seconds: to look for what it could forget costs a tenth of them."""
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


def refused(project: Project, layers: Sequence[Path] = ()) -> list[Problem]:
    """All that is refused. What passed before and is as it was is not looked at again."""
    passed = of_earlier_runs()
    when = [str(build_day()), *(str(each.resolve()) for each in layers)]
    whole = passed.key("all", *when, hash_of_all(project))
    beside_markdown = passed.key("all but Markdown", *when, hash_of_all(without_markdown(project)))
    if passed.holds(whole) and (ROOT / SETTINGS).exists():
        return []
    if passed.holds(beside_markdown) and (ROOT / SETTINGS).exists():
        problems = check_markdown(project, passed)
    else:
        tell_editors(without_markdown(project), layers, code=passed.code)
        problems = tried(project, check_all(project, passed), passed)
    if not problems:
        passed.add(whole)
        passed.add(beside_markdown)
    _keep(passed)
    return problems


def by_rules(project: Project, layers: Sequence[Path] = ()) -> list[Problem]:
    """What the rules refuse. For `serve`, which makes the pages beside and so tries the rest."""
    passed = of_earlier_runs()
    tell_editors(without_markdown(project), layers, code=passed.code)
    problems = check_all(project, passed)
    _keep(passed)
    return problems


def _keep(passed: Passed) -> None:
    if passed.code == code_of():  # else somebody has changed it meanwhile
        write_whole(FILE, str(passed))


def _lines(
    project: Project, refusals: Sequence[Problem], advised: Sequence[Problem], *, is_told: bool
) -> Iterator[str]:
    """What an author is told."""
    if is_told:
        yield from (f"{each}\n" for each in in_order(advised))
    if refusals:
        yield report(refusals)
    else:
        files, kept = _files(project), len(rules())
        yield f"{files} files read, {kept} rules kept, every example and page tried."
    if advised:
        count = f"{len(advised)} piece{'s' * (len(advised) > 1)} of advice"
        yield f"{count}." if is_told else f"{count}: 'check --advice' tells it."


def _files(project: Project) -> int:
    return len(project.documents) + len(project.python)


def for_tools(project: Project, layers: Sequence[Path], problems: Iterable[Problem]) -> str:
    """The same as an author is told, as a tool reads it."""
    ordered = in_order(problems)
    told = {
        "form": FORM,
        "files": _files(project),
        "rules": len(rules()),
        "refusals": sum(each.severity == REFUSAL for each in ordered),
        "advice": sum(each.severity == ADVICE for each in ordered),
        # Where the names of files begin: those of an overlay with the name of its folder.
        "folders": {"": str(ROOT), **{f.resolve().name: str(f.resolve()) for f in layers}},
        "problems": [_told(each) for each in ordered],
    }
    return json.dumps(told, ensure_ascii=False, indent=1)


def _told(problem: Problem) -> dict[str, str | int]:
    keys = (
        *("severity", "rule", "file", "line", "column"),
        *("where", "found", "expected", "fix"),
    )
    return {key: getattr(problem, key) for key in keys}


def tell_editors(
    project: Project, layers: Sequence[Path] = (), root: Path = ROOT, code: str = ""
) -> None:
    """Write the schemas that editors complete and check by, and which files each is for.

    Args:
        project: All files.
        layers: Folders of overlays.
        root: The folder to write into.
        code: The hash of what makes the schemas. Without it they are made each time.
    """
    names = {what: sorted(each) for what, each in known_names(project).items()}
    where = [str(each.resolve()) for each in layers]
    told = hashed(code, json.dumps(names), *where) if code else ""
    if told and _text_of(root / TOLD) == told and (root / SETTINGS).exists():
        return
    for name, what in _for_editors(project, layers, root).items():
        text = json.dumps(what, ensure_ascii=False, indent=1) + "\n"
        if _text_of(root / name) != text:
            write_whole(root / name, text)
    write_whole(root / TOLD, told)


def _for_editors(project: Project, layers: Sequence[Path], root: Path) -> Mapping[str, Any]:
    """What they are told, by the name of the file that it stands in."""
    ours = {SETTINGS: editor_settings(layers)} if _is_ours(root / SETTINGS) else {}
    return {**editor_schemas(project), **ours}


def _text_of(file: Path) -> str:
    return file.read_text("utf-8") if file.exists() else ""


def _is_ours(settings: Path) -> bool:
    """Whether nobody has settings of their own there."""
    try:
        return json.loads(settings.read_text("utf-8")).keys() == editor_settings().keys()
    except FileNotFoundError:
        return True
    except (ValueError, AttributeError):
        return False
