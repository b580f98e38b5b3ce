"""Third-party notices: nothing is shipped without the words of its licence."""

import json
import re
from pathlib import Path

import material
import pytest

from build_tools.site import licences, notices


@pytest.fixture(scope="module")
def text(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The notices of the tree as it stands."""
    out = tmp_path_factory.mktemp("site")
    notices.write(out)
    return (out / notices.FILE).read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("part", "words"),
    [
        ("pyodide 0.29.5", "Mozilla Public License Version 2.0"),
        ("pint 0.25.3", "by Hernan E. Grecco and contributors"),
        ("CPython and its standard library", "PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2"),
        ("minisearch 7.2.0", "Permission is hereby granted, free of charge"),
        ("in pyodide: libmpdec", "Redistributions in binary form must reproduce"),
        ("mkdocs-material 9.8.2", "Permission is hereby granted, free of charge"),
        ("in mkdocs-material: rxjs", "Apache License"),
        ("icons in mkdocs-material: fontawesome", "CC BY 4.0"),
    ],
)
def test_a_part_is_listed_with_the_words_of_its_licence(text: str, part: str, words: str):
    _, _, after = text.partition(f"{'=' * 78}\n{part}\n")
    assert words in after.split("=" * 78 + "\n")[0]


def test_every_part_of_the_themes_script_is_listed(text: str):
    """By its own source map, which the site leaves out."""
    [script_map] = (Path(material.__file__).parent / "templates/assets/javascripts").glob(
        "*.js.map"
    )
    sources = json.loads(script_map.read_text(encoding="utf-8"))["sources"]
    named = {found[1] for each in sources if (found := re.search(r"node_modules/([^/]+)/", each))}
    assert len(named) > 3
    assert {part for part in named if f"- in mkdocs-material: {part}\n" not in text} == set()


def test_every_font_is_listed(text: str):
    package = json.loads((licences.WEB / "package.json").read_text(encoding="utf-8"))
    fonts = [name for name in package["dependencies"] if name.startswith("@fontsource")]
    assert fonts
    assert all(re.search(rf"^- {re.escape(font)} ", text, re.MULTILINE) for font in fonts)
    assert "SIL OPEN FONT LICENSE" in text


def test_tools_are_not_listed(text: str):
    assert "esbuild" not in text
    assert "typescript" not in text.lower().split("=" * 78)[0]


def test_a_part_without_a_licence_text_stops_the_build_and_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    bare = licences.Part("a-part", "1.0", "MIT", "", " ")
    monkeypatch.setattr(notices, "parts", lambda: [bare])
    with pytest.raises(licences.NoLicenceTextError, match=r"No licence text .*: a-part 1\.0"):
        notices.write(tmp_path)
    assert not list(tmp_path.iterdir())


def test_another_release_of_the_runtime_asks_for_its_list(tmp_path: Path):
    package = {"dependencies": {"pyodide": "9.9.9"}}
    (tmp_path / "package.json").write_text(json.dumps(package))
    with pytest.raises(licences.NoLicenceTextError, match=r"made for pyodide 0\.29\.5; 9\.9\.9 is"):
        list(licences.runtime_parts(tmp_path))
