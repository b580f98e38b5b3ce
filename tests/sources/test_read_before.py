"""What was read before is what would be read anew: never less, and never of another file."""

from __future__ import annotations

from pathlib import Path

from build_tools.setup.paths import ROOT
from build_tools.sources.read_before import ReadBefore
from build_tools.sources.read_yaml import Document, read_before, read_file, read_text
from tests.project import project

FILES = [*project().documents][::25]
TEXT = b"kind: page\ntitle: '2:30'\nsteps:\n  - do: \xe2\x80\xa8caf\xc3\xa9\\u2028\n"
TREE = {"kind": "page", "title": "2:30", "steps": [{"do": "\N{LINE SEPARATOR}café\\u2028"}]}


def kept(folder: Path, reader: bytes = b"one") -> ReadBefore:
    return ReadBefore(folder / "kept" / "trees.txt", reader)


def filled(folder: Path) -> ReadBefore:
    first = kept(folder)
    assert first.get(TEXT) is None
    first.add(TEXT, TREE)
    first.add(b"other", ["a"])
    first.write()
    return first


def test_the_next_run_has_it_and_its_own_copy_each_time(tmp_path: Path) -> None:
    filled(tmp_path)
    again = kept(tmp_path)
    assert again.get(TEXT) == TREE
    again.get(TEXT)["kind"] = "changed"
    assert again.get(TEXT) == TREE
    assert again.get(TEXT + b"#") is None


def test_another_reader_reads_anew(tmp_path: Path) -> None:
    filled(tmp_path)
    assert kept(tmp_path, b"two").get(TEXT) is None


def test_a_damaged_file_counts_for_nothing(tmp_path: Path) -> None:
    filled(tmp_path)
    (file,) = (tmp_path / "kept").iterdir()
    whole = file.read_bytes()
    for bad in (whole.replace(b"page", b"pale"), whole[:-1], b"", whole[1:], b"\xff" + whole):
        file.write_bytes(bad)
        assert kept(tmp_path).get(TEXT) is None
    file.write_bytes(whole)
    assert kept(tmp_path).get(TEXT) == TREE


def test_no_folder_to_write_in_is_no_fault(tmp_path: Path) -> None:
    (tmp_path / "kept").write_text("a file is here", encoding="utf-8")
    assert filled(tmp_path).get(TEXT) == TREE


def test_a_file_that_was_read_before_says_and_stands_where_it_did() -> None:
    """The project is read by now, so its files come from what is kept."""
    for name in FILES:
        path = ROOT / name
        anew = read_text(path.read_text("utf-8"), name)
        tree = read_before.get(path.read_bytes())
        assert tree is not None, name
        before = Document(name, tree, text=anew.text)
        assert [*before.value] == [*anew.value]
        assert (before, before.places) == (anew, anew.places)


def test_what_can_t_be_read_whole_is_not_kept(tmp_path: Path) -> None:
    for number, text in enumerate(("a: 1\na: 2\n", "a: [\n", "just words\n", "")):
        file = tmp_path / f"{number}.yaml"
        file.write_text(text, encoding="utf-8")
        assert read_file(file, file.name).problems or text == "just words\n"
        assert read_before.get(file.read_bytes()) is None
