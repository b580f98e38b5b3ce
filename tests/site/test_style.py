"""One style sheet is made of many: none is left out, and the order is that of handbook.css."""

from __future__ import annotations

from build_tools.setup.paths import ROOT
from build_tools.site import stylesheet

SHEETS = ROOT / "build_tools/theme/assets/css"
FOR_PAPER = "print.css"  # asked for apart, so that a screen need not wait for it
# Pages of one or two kinds alone load these.
OF_ONE_KIND = {
    "papers.css",
    "practice.css",
    "questions.css",
    "printed-record.css",
    "results.css",
    "revision.css",
}
IN_MARKDOWN = "markdown.css"  # for pages that a host adds, with the rest of the theme's sheet


def test_every_sheet_but_that_for_paper_is_joined_once():
    names = [sheet.name for sheet in stylesheet.sheets(SHEETS)]
    alone = {stylesheet.ENTRY, FOR_PAPER, IN_MARKDOWN, *OF_ONE_KIND}
    others = {file.name for file in SHEETS.iterdir()} - alone
    assert sorted(names) == sorted(others)


def test_sheets_follow_each_other_as_they_are_imported(tmp_path):
    (tmp_path / "first.css").write_text("a { order: 1; }\n")
    (tmp_path / "second.css").write_text("a { order: 2; }\n")
    (tmp_path / stylesheet.ENTRY).write_text('@import "second.css";\n@import "first.css";\n')
    assert stylesheet.joined(tmp_path) == "a { order: 2; }\na { order: 1; }\n"


def test_the_site_has_one_sheet_for_screens_and_one_for_paper_and_those_of_single_pages(
    site_folder,
):
    found = sorted(file.name for file in (site_folder / "assets/css").iterdir())
    assert found == sorted({stylesheet.ENTRY, IN_MARKDOWN, FOR_PAPER, *OF_ONE_KIND})
    whole = (site_folder / "assets/css" / stylesheet.ENTRY).read_text("utf-8")
    theme, ours = whole.split("}\n", 1)
    assert theme.startswith("@layer material{")
    assert ours == stylesheet.joined(SHEETS)
