"""The command `test --overlay`: all that a host lays over the handbook, tried as the handbook is.

Its files are held to the rules, its questions drawn by many seeds, and its pages built and looked
at in a browser. The handbook's own tests are the handbook's: they never see an overlay.
"""

import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from build_tools.for_hosts import axe, links, questions
from build_tools.site import build_site
from build_tools.site.check import refused
from build_tools.sources import overlays
from build_tools.sources.advice import advice_on
from build_tools.sources.load_project import load
from build_tools.sources.overlays import Overlay
from build_tools.sources.problems import Problem, report
from build_tools.sources.project import Project

PAGES = {"reference", "procedure"}


def main(overlay: Sequence[Path] = ()) -> int:
    """Try the overlays in these folders, the lowest first. Exit status 1 where one fails."""
    if not overlay:
        print("Name the overlay: test --overlay FOLDER", file=sys.stderr)
        return 2
    layers = overlays.read(overlay)
    project = load(layers=layers)
    problems = refused(project, overlay)
    if problems:  # what can't be built can't be tried
        print(report(problems))
        return 1
    print("Its files keep every rule, its figures among them.", flush=True)
    problems = questions.tried(project)
    print(f"Its {_asked(project)}: drawn with {questions.SEEDS} seeds each.", flush=True)
    problems += _pages(project, layers)
    for advice in advice_on(project):
        print(f"\nAdvice: {advice}")
    print(f"\n{report(problems)}" if problems else "\nThe overlay passes.")
    return 1 if problems else 0


def _asked(project: Project) -> str:
    counts = {kind: len(questions.own(project, kind)) for kind in ("question", "paper")}
    return " and ".join(f"{n} {kind}{'s' * (n != 1)}" for kind, n in counts.items())


def _pages(project: Project, layers: Sequence[Overlay]) -> list[Problem]:
    """Build the site, and look at the pages that a host has words on."""
    pages = own_pages(project, layers)
    with TemporaryDirectory() as scratch:
        site = Path(scratch) / "site"
        build_site.build(site, "draft", layers)
        broken, followed = links.tried(site, pages)
        found = axe.tried(site, pages)
    print(f"Its {len(pages)} pages: {followed} links followed, axe asked in light and dark.")
    return [*broken, *found]


def own_pages(project: Project, layers: Sequence[Overlay]) -> Mapping[str, str]:
    """The file that each page comes from which a host wrote or has words on, by its address."""
    found = {"index.html": layers[-1].documents[layers[-1].place].file}
    for node in project.nodes("words_of"):
        found[f"{node['of'].text}.html"] = node.document.file
    for kind in PAGES:
        for node in project.nodes(kind):
            if node.document.at:
                page = node.document.place.removeprefix("content/").removesuffix(".yaml")
                found[f"{page}.html"] = node.document.file
    for layer in layers:
        for name in layer.markdown:
            found[f"{name.removesuffix('.md')}.html"] = f"{layer.name}/pages/{name}"
    return found
