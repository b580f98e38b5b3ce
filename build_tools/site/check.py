"""The command `check`: hold every file against every rule, and say all that is wrong at once.

What passes here is built: the examples are run and the pages put together too.
"""

from build_tools.site.trial import tried
from build_tools.sources.problems import report
from build_tools.sources.project import load
from build_tools.sources.rule import check_all, rules


def main() -> int:
    """Print every problem. Exit status 1 when there is one."""
    project = load()
    problems = tried(project, check_all(project))
    if problems:
        print(report(problems))
        return 1
    files = len(project.documents) + len(project.python)
    print(f"{files} files read, {len(rules())} rules kept, every example and page tried.")
    return 0
