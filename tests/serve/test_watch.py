"""What makes `serve` build again."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from build_tools.serve.watch import look


@pytest.fixture
def project(tmp_path) -> Path:
    (tmp_path / "content").mkdir()
    (tmp_path / "content" / "_home.yaml").write_text("kind: home")
    (tmp_path / "build_tools" / "web" / "node_modules").mkdir(parents=True)
    return tmp_path


def test_a_change_is_seen_and_what_set_up_or_an_editor_brings_is_not(project):
    before = look(project)
    (project / "build_tools" / "web" / "node_modules" / "new.js").write_text("x")
    (project / "content" / "__pycache__").mkdir()
    (project / "content" / "._home.yaml.swp").write_text("x")
    assert look(project) == before
    os.utime(project / "content" / "_home.yaml", ns=(1, 1))
    changed = look(project)
    assert changed != before
    (project / "content" / "_home.yaml").unlink()
    assert look(project) not in (before, changed)


def test_the_next_day_is_a_change(project, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1764028800")
    before = look(project)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1764115200")
    assert look(project) != before
