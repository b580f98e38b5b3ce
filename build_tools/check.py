"""The command `check`: hold every file against every rule, and say all that is wrong at once."""

from build_tools.problems import report
from build_tools.project import load
from build_tools.rules import check_all, rules


def main() -> int:
    """Print every problem. Exit status 1 when there is one."""
    project = load()
    problems = check_all(project)
    if problems:
        print(report(problems))
        return 1
    files = len(project.documents) + len(project.python)
    print(f"{files} files read, {len(rules())} rules kept.")
    return 0
