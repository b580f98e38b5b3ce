"""A host's words and outcomes stand at a place that is there, and at a step as it says now."""

import re
from collections.abc import Iterator

from build_tools.sources.known_names import known_names
from build_tools.sources.node import Node
from build_tools.sources.overlays import hidden
from build_tools.sources.page_kinds import FOLDERS
from build_tools.sources.problems import Problem, listing, rename_fix
from build_tools.sources.project import Project
from build_tools.sources.step_hash import step_hash

HASH = re.compile(r"[0-9a-f]{6}")
PLACE = "Words for a page stand under its own name, so that they are found."


def check(project: Project) -> Iterator[Problem]:
    """Look at each file under `words/` of an overlay."""
    yield from _outcomes(project)
    for words in project.nodes("words_of"):
        page = words["of"].text
        yield from _place(words, page)
        document = project.documents.get(f"content/{page}.yaml")
        if document is None or not isinstance(document.value, dict):
            continue  # another rule tells of a page that is not there
        beneath = Node(document, (), document.value)
        yield from _parts(words, beneath, page)
        steps = {step["id"].text: step for step in beneath["steps"].items()}
        for name in words["steps"].names:
            if name not in steps:
                found = f"{document.file} has no step '{name}'."
                fix = rename_fix(name, steps, "delete it")
                expected = f"It has: {listing(steps, 6)}."
                yield words["steps"][name].problem(found, expected, fix, key=True)
            else:
                yield from _step(words["steps"][name], steps[name])


def _outcomes(project: Project) -> Iterator[Problem]:
    """Each outcome stands once, and what serves it is there and is shown."""
    known = {*known_names(project)["place"]}
    known |= {f"questions/{stem}" for stem in project.stems("question")}
    known |= {f"papers/{stem}" for stem in project.stems("paper")}
    left_out = hidden(project.overlays)
    seen: dict[str, int] = {}
    for outcome in project.each("outcomes", "outcomes", ...):
        code = outcome["code"]
        if code.text in seen:
            found = f"The outcome '{code.text}' is on line {seen[code.text]} already."
            yield code.problem(found, "", "put what serves it together there")
        seen.setdefault(code.text, outcome.document.mark(code.key_path).line)
        for place in outcome["served_by"].items():
            page = place.text.partition("#")[0]
            if page in left_out:
                fix = "take it out here, or from 'hide'"
                yield place.problem(f"'{page}' is hidden.", "", fix)
            elif place.text and place.text not in known:
                fix = rename_fix(place.text, known, "name what is there")
                yield place.problem(f"There is no '{place.text}'.", "", fix)


def _place(words: Node, page: str) -> Iterator[Problem]:
    wanted = f"/words/{page}.yaml"
    if page and not words.document.file.endswith(wanted):
        found = f"This file is for '{page}'."
        yield words["of"].problem(found, PLACE, f"move the file to {wanted.removeprefix('/')}")


def _parts(words: Node, beneath: Node, page: str) -> Iterator[Problem]:
    """Steps and stops are a procedure's; cautions stand on a page that has some."""
    folder = page.partition("/")[0]
    kind = FOLDERS[folder].title if folder in FOLDERS else folder
    if beneath["kind"].text == "procedure":
        return
    for key in ("steps", "add_stop", "add_caution"):
        if key in words:
            found = f"'{key}' can't stand here: '{page}' is no procedure."
            expected = f"A page of the kind '{kind}' takes no words of a host's."
            fix = "write a page of your own under pages/, or add words to a procedure"
            yield words[key].problem(found, expected, fix, key=True)


def _step(words: Node, step: Node) -> Iterator[Problem]:
    if not words.is_mapping:
        return
    if not words.value.keys() - {"was"}:
        found, fix = "Nothing is said of this step.", "add words, or delete it"
        yield words.problem(found, "", fix, key=True)
        return
    now, was = step_hash(step.value), words["was"].text
    said = f"The handbook says: {step['do'].text}"
    if "was" not in words:
        expected = f"'was' says which words of the handbook it was written for. {said}"
        fix = f"read the whole step, then add 'was: {now}' as its first key"
        yield words.problem("The key 'was' is missing here.", expected, fix, key=True)
    elif HASH.fullmatch(was) and was != now:
        found = f"The handbook has changed this step: it was '{was}', and is '{now}'."
        fix = f"read the whole step, put your words right, then write 'was: {now}'"
        yield words["was"].problem(found, said, fix)
