"""The folder edition as it is made: what its zip holds, and the same bytes each time."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from build_tools.pages import load_handbook
from build_tools.site import package
from build_tools.site.policy import for_folder


def test_the_zip_says_what_it_is_and_holds_one_folder(editions):
    day, state = package.edition_of(editions.folder)
    assert editions.zip.name == f"gas_commissioning_handbook_{day}_{state}.zip"
    with zipfile.ZipFile(editions.zip) as archive:
        names = archive.namelist()
    assert names == sorted(names)
    assert {name.partition("/")[0] for name in names} == {editions.zip.stem}
    words = (editions.folder / package.READ_ME).read_text("utf-8")
    assert day in words
    assert "Open index.html" in words


def test_the_same_folder_gives_the_same_zip(editions, tmp_path):
    """Whenever its files were written: these were unpacked from the first."""
    again = tmp_path / "again.zip"
    package.write_zip(editions.folder, again, editions.zip.stem)
    assert again.read_bytes() == editions.zip.read_bytes()


def test_a_day_that_is_given_is_the_day_of_every_file(tmp_path, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")  # 2023-11-14 22:13:20 UTC
    folder = tmp_path / "folder"
    folder.mkdir()
    (folder / "index.html").write_text("A page", "utf-8")
    package.write_zip(folder, tmp_path / "made.zip", "top")
    with zipfile.ZipFile(tmp_path / "made.zip") as archive:
        [file] = archive.infolist()
    assert file.date_time == (2023, 11, 14, 22, 13, 20)


def test_the_same_source_gives_the_same_editions(editions, tmp_path, monkeypatch):
    """Both of them, to the byte, in another folder. The rules, which were asked, write nothing."""
    monkeypatch.setattr(load_handbook, "check_all", lambda *_: [])
    again = package.package(tmp_path)
    assert again.name == editions.zip.name
    assert again.read_bytes() == editions.zip.read_bytes()
    first, second = (_contents(each) for each in (editions.hosted, tmp_path / "hosted"))
    assert first.keys() == second.keys()
    assert [name for name, content in first.items() if content != second[name]] == []


def _contents(folder: Path) -> dict[str, bytes]:
    files = (each for each in folder.rglob("*") if each.is_file())
    return {each.relative_to(folder).as_posix(): each.read_bytes() for each in files}


def test_only_the_folder_may_make_a_worker_from_text(editions):
    for name in ("index.html", "calculators/gas_rate.html"):
        hosted = (editions.hosted / name).read_text("utf-8")
        folder = (editions.folder / name).read_text("utf-8")
        assert "worker-src 'self'" in hosted
        assert "blob:" not in hosted
        assert "worker-src blob:" in folder
        assert folder.count("blob:") == 1
    with pytest.raises(ValueError, match="lacks worker-src 'self'"):
        for_folder(folder)
