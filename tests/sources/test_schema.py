"""The schemas are JSON Schema, and what fits one by a validator of others fits it by ours."""

from typing import Any

import pytest
from jsonschema import Draft202012Validator

from build_tools.sources.overlays import OVERLAY_KINDS
from build_tools.sources.project import KINDS, Project, kind_of
from build_tools.sources.read_yaml import Document
from build_tools.sources.schema import schema_of
from build_tools.sources.schema_faults import faults
from tests.broken.stories import stories
from tests.project import project
from tests.project_of_texts import from_texts

PROJECT = project()


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_of_file_has_a_schema(kind: str) -> None:
    Draft202012Validator.check_schema(schema_of(kind))
    assert any(kind_of(file) == kind for file in PROJECT.documents)


@pytest.mark.parametrize("kind", OVERLAY_KINDS)
def test_each_kind_of_file_of_an_overlay_has_a_schema(kind: str) -> None:
    Draft202012Validator.check_schema(schema_of(kind))


def agree(document: Document, project: Project) -> bool:
    """Whether the two validators say the same of a file."""
    schema = schema_of(str(kind_of(document.place)))
    found = {problem.file for problem in faults(project)}
    return Draft202012Validator(schema).is_valid(document.value) == (document.file not in found)


@pytest.mark.parametrize("story", [pytest.param(each.values[1], id=each.id) for each in stories()])
def test_a_validator_of_others_agrees_on_every_broken_file(story: dict[str, Any]) -> None:
    project = from_texts(story["files"], {}, PROJECT.day)
    known = [each for each in project.documents.values() if kind_of(each.place)]
    read = [each for each in known if each.value is not None]
    assert [each.file for each in read if not agree(each, project)] == []
