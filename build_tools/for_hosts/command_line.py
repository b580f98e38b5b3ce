"""What `python -m calcs --overlay` answers by: figures, questions and papers, a host's too."""

import json
import sys
from collections.abc import Sequence
from pathlib import Path

from build_tools.runtime import bundle as bundles
from build_tools.runtime import practice_pack
from build_tools.site.check import refused
from build_tools.sources import overlays
from build_tools.sources.days import build_day
from build_tools.sources.edition import edition
from build_tools.sources.load_project import load
from build_tools.sources.problems import report


def main(folder: Path, layers: Sequence[Path]) -> int:
    """Write them. Exit status 1 where a file of an overlay is refused, which is told.

    Args:
        folder: Where they are written, each by the name that it has in `calcs/`.
        layers: Folders of overlays, the lowest first.
    """
    try:
        read = overlays.read(layers)
    except overlays.NoOverlayError as problem:
        print(problem)
        return 1
    project = load(layers=read)
    if problems := refused(project, layers):
        print(report(problems))
        return 1
    bundle = {"edition": edition(build_day(), layers=read), **bundles.contents(project)}
    made = practice_pack.make(project, practice_pack.day_of(bundle))
    for name, what in {Path(bundles.PLACE).name: bundle, practice_pack.NAME: made}.items():
        (folder / name).write_text(json.dumps(what, ensure_ascii=False), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), [Path(each) for each in sys.argv[2:]]))
