"""The command `check`: hold every file against every rule, and say all that is wrong at once.

What passes here is built: the examples are run and the pages put together too. Editors are told
what there is, so that they say the most of it while an author types. Tools are told the same as an
author, in one JSON text: `tests/sources/check.schema.json` is its shape.
"""

import gc
import json
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from build_tools.runtime.cache import write_whole
from build_tools.setup.paths import ROOT
from build_tools.site.trial import tried
from build_tools.sources import overlays
from build_tools.sources.advice import advice_on
from build_tools.sources.days import build_day
from build_tools.sources.editor_schemas import editor_schemas, editor_settings
from build_tools.sources.passed import FILE, code_of, hash_of_all, of_earlier_runs
from build_tools.sources.problems import ADVICE, REFUSAL, Problem, in_order, report
from build_tools.sources.project import Project, load
from build_tools.sources.rule import check_all, rules

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
    where = [str(each.resolve()) for each in layers]
    whole = passed.key("all", str(build_day()), *where, hash_of_all(project))
    if passed.holds(whole) and (ROOT / SETTINGS).exists():
        return []
    tell_editors(project, layers)
    problems = tried(project, check_all(project, passed), passed)
    if not problems:
        passed.add(whole)
    if passed.code == code_of():  # else somebody has changed it meanwhile
        write_whole(FILE, str(passed))
    return problems


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


def tell_editors(project: Project, layers: Sequence[Path] = (), root: Path = ROOT) -> None:
    """Write the schemas that editors complete and check by, and which files each is for."""
    told = {**editor_schemas(project)}
    if _is_ours(root / SETTINGS):
        told[SETTINGS] = editor_settings(layers)
    for name, what in told.items():
        text, file = json.dumps(what, ensure_ascii=False, indent=1) + "\n", root / name
        if not file.exists() or file.read_text("utf-8") != text:
            write_whole(file, text)


def _is_ours(settings: Path) -> bool:
    """Whether nobody has settings of their own there."""
    try:
        return json.loads(settings.read_text("utf-8")).keys() == editor_settings().keys()
    except FileNotFoundError:
        return True
    except (ValueError, AttributeError):
        return False
