"""What editors go by says the same as `check`: of every file there is, and of files put wrong.

The validator is the library jsonschema. What an editor sees of a file is YAML 1.2's core schema
(yaml.org, revision 1.2.2, 10.3.2), where `365` is a number, `true` a truth value and `yes` a text.
"""

from __future__ import annotations

import json
import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import replace
from fnmatch import fnmatch
from functools import cache
from pathlib import Path
from typing import Any, ClassVar, NamedTuple

import pytest
import yaml
from jsonschema import Draft7Validator

from build_tools.setup.paths import ROOT
from build_tools.site.check import SETTINGS, tell_editors
from build_tools.sources.editor_schemas import FOLDER, editor_schemas, editor_settings
from build_tools.sources.load_project import load
from build_tools.sources.node import Node
from build_tools.sources.overlays import read
from build_tools.sources.project import KINDS, Project, kind_of
from build_tools.sources.read_yaml import Document, KeyPath, dotted, get_path
from build_tools.sources.rule import rules
from build_tools.sources.schema import Schema, schema_of, walk
from build_tools.sources.schema_faults import faults
from tests.project import project

MANY = 30  # keys: no form has so many, so an author chose them and a few will do
PROJECT = project()


@cache
def schemas() -> dict[str, Any]:
    return {Path(name).stem: each for name, each in editor_schemas(PROJECT).items()}


@cache
def validator(kind: str) -> Draft7Validator:
    return Draft7Validator(schemas()[kind])


class AsEditorsRead(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):  # type: ignore[misc]
    """YAML 1.2, core schema."""

    yaml_implicit_resolvers: ClassVar[dict[str, Any]] = {}


for tag, pattern in {
    "null": "~|null|Null|NULL|",
    "bool": "true|True|TRUE|false|False|FALSE",
    "int": r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+",
    "float": r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?",
}.items():
    AsEditorsRead.add_implicit_resolver(
        f"tag:yaml.org,2002:{tag}", re.compile(rf"^(?:{pattern})$"), None
    )
AsEditorsRead.add_constructor("tag:yaml.org,2002:int", lambda _, node: float(node.value))
AsEditorsRead.add_multi_constructor("", lambda _loader, tag, _node: tag)


@pytest.mark.parametrize("kind", KINDS)
def test_every_file_that_passes_check_passes_in_an_editor(kind: str) -> None:
    Draft7Validator.check_schema(schemas()[kind])
    seen = 0
    for file, document in PROJECT.documents.items():
        if kind_of(file) == kind:
            seen += 1
            value = yaml.load(document.text, AsEditorsRead)  # noqa: S506  it is a SafeLoader
            wrong = [
                f"{e.json_path}: {e.message[:200]}" for e in validator(kind).iter_errors(value)
            ]
            assert wrong == [], file
    assert seen


class Mutant(NamedTuple):
    """A file put wrong in one place."""

    how: str
    key_path: KeyPath
    document: Document


Forms = dict[KeyPath, Schema]  # of each place of a file


def alone(node: Node, key_path: KeyPath, forms: Forms) -> tuple[Any, KeyPath]:
    """A copy of a file with what leads to a place and what must be there; the path then."""
    if not key_path:
        return short(node.value), ()
    first, *rest = key_path
    below, path = alone(node[first], tuple(rest), forms)
    if isinstance(first, int):
        return [below], (0, *path)
    needed = {key: short(node[key].value) for key in forms[node.key_path].get("required", ())}
    return {**needed, first: below}, (first, *path)


def short(value: Any) -> Any:
    """A copy with one item of each list, and few of the names that an author chose."""
    if isinstance(value, list):
        return [short(item) for item in value[:1]]
    if not isinstance(value, dict):
        return value
    kept = list(value)[: 2 if len(value) > MANY else MANY]
    return {key: short(value[key]) for key in kept}


def ways_to_go_wrong(value: Any, form: Schema) -> Iterator[tuple[str, Any]]:
    """A name for what is done to a place, and what stands there then."""
    if isinstance(value, dict):
        yield "text for a mapping", "just words"
        yield "list for a mapping", ["just words"]
        yield "an unknown key", {**value, "unheard of": "x"}
        required, known = form.get("required", ()), form.get("properties", {})
        optional = [key for key in value if key not in required]
        for key in [*(key for key in value if key in required), *optional[:1]]:
            rest = {name: each for name, each in value.items() if name != key}
            yield "a key less", rest
        for key in (key for key in value if key in known):
            rest = {name: each for name, each in value.items() if name != key}
            yield "misspelt key", {**rest, f"{key}z": value[key]}
    elif isinstance(value, list):
        yield "text for a list", "just words"
        yield "mapping for a list", {"a": "b"}
        yield "empty list", []
    else:
        yield "list for a text", [value]
        yield "mapping for a text", {"a": "b"}
        yield "empty text", ""
        if {"enum", "pattern"} & form.keys():
            yield "other word", f"Not {value}!"


def mutants(kind: str) -> Iterator[Mutant]:
    """Each place that such files have, put wrong in each way, once a kind."""
    seen: set[int] = set()
    for file, document in PROJECT.documents.items():
        if kind_of(file) != kind:
            continue
        whole = Node(document, (), document.value)
        forms = {node.key_path: form for node, form in walk(whole, schema_of(kind))}
        for key_path, form in forms.items():
            if id(form) in seen:
                continue
            seen.add(id(form))
            for how, wrong in ways_to_go_wrong(short(get_path(whole.value, *key_path)), form):
                value, path = alone(whole, key_path, forms)
                if path:
                    get_path(value, *path[:-1])[path[-1]] = wrong
                yield Mutant(how, path, Document(file, value=value if path else wrong))


def test_what_is_put_wrong_in_shape_is_refused_by_both() -> None:
    """Apart are only texts in the place of a list that name nothing: rules say so, tested below."""
    counted: Counter[bool] = Counter()
    apart = []
    for kind in KINDS:
        for how, key_path, document in mutants(kind):
            by_check = any(True for _ in faults(Project({document.file: document}, {})))
            by_editor = not validator(kind).is_valid(document.value)
            counted[by_check] += 1
            if by_check != by_editor:
                apart.append((how, by_editor, key_path[-1]))
    assert counted[True] >= 3000, counted
    assert counted[False] >= 150, counted
    assert {each[:2] for each in apart} == {("text for a list", True)}, apart
    assert len(apart) <= 6, apart


# Which rule finds a name that is nowhere, by what it is the name of. In a question it is one rule
# for all that follows its page.
OF_A_QUESTION = ("step", "term", "check", "slip", "procedure")
BY_RULE = {
    "figure": "unknown_figure",
    "reading": "unknown_reading",
    "reading of the visit": "example_known",
    "source": "unknown_source",
    "step": "unknown_step",
    **dict.fromkeys(("page", "section", "calculator", "diagram", "table"), "unknown_page"),
    **dict.fromkeys(("instrument", "page of this section"), "unknown_page"),
}


def places_of_names() -> Iterator[tuple[str, str, Node]]:
    """A place of each kind of file for each thing that a text there is the name of."""
    seen = set()
    for kind, node, form in PROJECT.forms:
        what = form.get("names")
        free = re.search(form["or"], node.text) if "or" in form else None
        if what and node.text and not free and (kind, what) not in seen:
            seen.add((kind, what))
            yield kind, what, node


def test_a_name_that_is_nowhere_is_refused_by_both() -> None:
    """All are put wrong at once, each in a file of its own."""
    documents = dict(PROJECT.documents)
    wrong: dict[str, list[tuple[str, KeyPath]]] = defaultdict(list)
    for kind, what, node in places_of_names():
        file = node.document.file
        value = deepcopy(documents[file].value)
        get_path(value, *node.key_path[:-1])[node.key_path[-1]] = f"{node.text}_qq"
        documents[file] = replace(documents[file], value=value)
        of_question = kind == "question" and what in OF_A_QUESTION
        rule = "question_names" if of_question else BY_RULE[what]
        wrong[rule].append((file, node.key_path))
        found = [tuple(each.absolute_path) for each in validator(kind).iter_errors(value)]
        assert any(node.key_path[: len(each)] == each != () for each in found), (what, file)
    project = replace(PROJECT, documents=documents)
    for rule in rules(wrong):
        told = [(problem.file, problem.where) for problem in rule.check(project)]
        for file, key_path in wrong[rule.name.replace("-", "_")]:
            place = dotted(key_path)
            assert any(f == file and place.startswith(w) for f, w in told if w), (file, place)
    assert {*BY_RULE.values(), "question_names"} == set(wrong)


def test_check_writes_them_and_leaves_settings_that_are_somebodys_own(tmp_path: Path) -> None:
    tell_editors(PROJECT, root=tmp_path)
    settings = tmp_path / SETTINGS
    named = json.loads(settings.read_text("utf-8"))["yaml.schemas"]
    assert named[f"./{FOLDER}/calculator.json"] == ["content/calculators/*.yaml"]
    assert named[f"./{FOLDER}/procedure.json"] == [
        "content/procedures/*.yaml",
        "overlays/*/pages/procedures/*.yaml",
    ]
    assert named[f"./{FOLDER}/words_of.json"] == ["overlays/*/words/*/*.yaml"]
    for name in named:
        assert json.loads((tmp_path / name).read_text("utf-8")) == schemas()[Path(name).stem]
    settings.write_text('{"yaml.schemas": {}}', "utf-8")  # as an older one left it
    tell_editors(PROJECT, root=tmp_path)
    assert json.loads(settings.read_text("utf-8"))["yaml.schemas"] == named
    for own in ('{"editor.rulers": [100]}', '{"yaml.schemas": {}, "editor.rulers": [100]}', "// {"):
        settings.write_text(own, "utf-8")
        tell_editors(PROJECT, root=tmp_path)
        assert settings.read_text("utf-8") == own


def test_each_file_of_an_overlay_has_its_schema() -> None:
    layer = ROOT / "tests" / "overlay" / "northmoor"
    project = load(layers=read([layer]))
    made, places = editor_schemas(project), editor_settings([layer])["yaml.schemas"]
    assert len(project.overlays[0].documents) > 5
    for document in project.overlays[0].documents.values():
        schema = f"{FOLDER}/{kind_of(document.place)}.json"
        file = (layer.parent / document.file).as_posix()
        assert any(fnmatch(file, place) for place in places[f"./{schema}"]), file
        value = yaml.load(document.text, AsEditorsRead)  # noqa: S506  it is a SafeLoader
        found = Draft7Validator(made[schema]).iter_errors(value)
        assert [f"{each.json_path} {each.message[:200]}" for each in found] == [], file


def test_an_editor_shows_what_the_shape_says_of_a_key() -> None:
    step = schemas()["procedure"]["properties"]["steps"]["items"]["properties"]
    assert step["state"]["description"] == "how the appliance stands while the readings are taken"
    assert step["outcome"]["description"].startswith("How a step answers what is typed in it")
    assert step["id"]["patternErrorMessage"] == "Write a name in small letters, such as gas_rate."
    assert "tightness.let_by_start" in step["reading"]["anyOf"][0]["enum"]
