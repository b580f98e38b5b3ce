"""The command `check`: hold every file against every rule, and say all that is wrong at once.

What passes here is built: the examples are run and the pages put together too. Editors are told
what there is, so that they say the most of it while an author types.
"""

import json
from collections.abc import Sequence
from pathlib import Path

from build_tools.runtime.cache import write_whole
from build_tools.setup.paths import ROOT
from build_tools.site.trial import tried
from build_tools.sources import overlays
from build_tools.sources.editor_schemas import editor_schemas, editor_settings
from build_tools.sources.problems import report
from build_tools.sources.project import Project, load
from build_tools.sources.rule import check_all, rules

SETTINGS = ".vscode/settings.json"  # where one editor looks. Others take the same `yaml.schemas`


def main(overlay: Sequence[Path] = ()) -> int:
    """Print every problem. Exit status 1 when there is one."""
    project = load(layers=overlays.read(overlay))
    tell_editors(project, overlay)
    problems = tried(project, check_all(project))
    if problems:
        print(report(problems))
        return 1
    if open_ones := unserved(project):
        print(f"Outcomes that nothing serves: {', '.join(open_ones)}.")
    files = len(project.documents) + len(project.python)
    print(f"{files} files read, {len(rules())} rules kept, every example and page tried.")
    return 0


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


def unserved(project: Project) -> list[str]:
    """Codes of the outcomes of hosts that no page and no question serves."""
    outcomes = project.each("outcomes", "outcomes", ...)
    return [each["code"].text for each in outcomes if not each["served_by"].items()]
