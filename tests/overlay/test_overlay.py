"""The overlay of an invented college over the whole handbook, and one that changes nothing.

Its figures are invented, and say so.
"""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from build_tools.pages import hosts, load_handbook
from build_tools.pages.handbook import drafts
from build_tools.runtime import bundle
from build_tools.site import package, trial_fills, trial_questions
from build_tools.sources import new_overlay, overlays
from build_tools.sources.accent import contrast
from build_tools.sources.advice import advice_on
from build_tools.sources.days import build_day
from build_tools.sources.edition import edition
from build_tools.sources.host import settings
from build_tools.sources.load_project import load
from build_tools.sources.mark import cleaned
from build_tools.sources.project import Project
from build_tools.sources.rule import check_all
from calcs.bridge import Bridge
from tests.calcs.domain.tightness_asked import ask, verdict
from tests.overlay import broken_overlays as broken
from tests.overlay.northmoor_read import NORTHMOOR, as_read_today
from tests.project import project as the_project
from tests.project import supposed
from tests.tables.rows import TODAY

TABLE = "permissible_drop_natural_gas"
NOTHING = "kind: overlay\nname: {}\nover: {{base: 2026-11-20, needs: 1}}\n"


@pytest.fixture(scope="module")
def laid(tmp_path_factory: pytest.TempPathFactory) -> Project:
    return load(layers=overlays.read([as_read_today(tmp_path_factory.mktemp("laid"))]))


@pytest.fixture(scope="module")
def bridge_of_host(laid: Project) -> Bridge:
    return Bridge(json.dumps({"edition": "", **bundle.contents(laid)}))


def test_it_passes_all_that_the_handbook_does(laid: Project) -> None:
    """Rules, what is filled in, every page and its own questions, as `check --overlay` tries them.

    The handbook's own questions are tried with the handbook.
    """
    own = {
        place: document
        for place, document in laid.documents.items()
        if document.at or not place.startswith(("content/questions/", "content/papers/"))
    }
    asked = trial_questions.tried(replace(laid, documents=own))
    found = [*check_all(laid, supposed()), *trial_fills.tried(laid), *asked]
    assert [str(each) for each in found] == []
    page_context = load_handbook.context_of(laid)
    page_context.draws_charts = False
    made, _ = drafts(laid, page_context)
    paths = {node.path for _, node, _ in made}
    assert {"reference/bay_rules.html", "reference/outcomes.html"} < paths
    assert "calculators/equivalent_flue_height.html" not in paths


def test_an_overlay_that_changes_nothing_leaves_every_byte(tmp_path: Path) -> None:
    """All that a build is made from is the same: the files, the settings and the stamp."""
    folder = tmp_path / "nothing"
    folder.mkdir()
    (folder / "overlay.yaml").write_text(NOTHING.format(settings().site_name), encoding="utf-8")
    layers = overlays.read([folder])
    with_it, without = load(layers=layers), the_project()
    assert {k: v for k, v in with_it.documents.items() if k not in layers[0].documents} == (
        without.documents
    )
    assert [*with_it.documents][: len(without.documents)] == [*without.documents]
    assert bundle.contents(with_it) == bundle.contents(without)
    assert settings(overlays=layers) == settings()
    day = build_day()
    assert edition(day, layers=layers) == edition(day)
    laid, bare = hosts.of(with_it), hosts.of(without)
    assert (laid.words, laid.limits, laid.hidden, laid.written) == (
        (bare.words, bare.limits, bare.hidden, bare.written)
    )


def test_the_stamp_names_handbook_and_overlay_with_their_days(tmp_path: Path) -> None:
    shutil.copytree(NORTHMOOR, tmp_path / "northmoor")
    day = build_day()
    before = edition(day, layers=overlays.read([tmp_path / "northmoor"]))
    base = edition(day)
    assert before.startswith(f"{base}+northmoor-2026-11-20-")
    page = tmp_path / "northmoor" / "pages" / "bays.md"
    page.write_text(page.read_text("utf-8") + "\nMore.\n", encoding="utf-8")
    assert edition(day, layers=overlays.read([tmp_path / "northmoor"])) != before


@pytest.mark.parametrize(
    ("volume", "fall_to", "outcome", "limit"),
    # Northmoor's invented table permits 5.5 mbar up to 0.010 m³ and 3.3 mbar up to 0.035 m³. From
    # 20.5 to 18.5 mbar is a fall of 2 mbar, and to 16.0 mbar one of 4.5 mbar.
    [
        ("0.034 m³", "18.5 mbar", "meets", "3.30"),
        ("0.034 m³", "16.0 mbar", "does_not_meet", "3.30"),
        ("0.010 m³", "16.0 mbar", "meets", "5.50"),
    ],
)
def test_a_filled_table_gives_the_verdict_without_asking(
    bridge_of_host: Bridge, bridge: Any, volume: str, fall_to: str, outcome: str, limit: str
) -> None:
    typed = {"installation_volume": volume, "test_end": fall_to}
    found = verdict(ask(bridge_of_host, **typed))
    assert (found["outcome"], found["provenance"]) == (outcome, "invented")
    assert limit in found["limit"]
    assert "copy 12 of the college" in found["source"]
    assert verdict(ask(bridge, **typed))["outcome"] == "not_judged"


def test_what_is_not_marked_as_invented_is_the_host_s_copy(tmp_path: Path) -> None:
    shutil.copytree(NORTHMOOR, tmp_path / "northmoor")
    file = tmp_path / "northmoor" / "tables" / f"{TABLE}.yaml"
    file.write_text(file.read_text("utf-8").replace('invented: "yes"\n', ""), encoding="utf-8")
    held = load(layers=overlays.read([tmp_path / "northmoor"])).tables[TABLE]["values"][-1]
    assert held["provenance"] == "host-copy"
    assert held["note"].startswith("Filled in by Northmoor College, read on 2026-11-03")


@pytest.mark.parametrize("page", ["procedures/tightness_test", "calculators/tightness_test"])
def test_words_that_say_not_held_follow_the_table(laid: Project, page: str) -> None:
    value = laid.documents[f"content/{page}.yaml"].value
    assert TABLE not in value["not_held"]
    assert "does not hold that table" not in str(value)
    assert "by installation volume and it is not held" not in str(value)
    before = str(the_project().documents[f"content/{page}.yaml"].value["not_held"])
    assert TABLE in before


def test_what_is_invented_is_not_handed_out(capsys: pytest.CaptureFixture[str]) -> None:
    assert package.main(None, [NORTHMOOR]) == 1
    told = capsys.readouterr().err
    assert "northmoor/tables/permissible_drop_natural_gas.yaml:6:1  invented" in told
    assert "northmoor/limits/bays.yaml:8:7  burner_pressure.tolerance_bay.values[1]" in told
    assert told.rstrip().endswith("2 problems found.")


def test_rows_in_the_wrong_order_and_too_large_a_drop_are_told_of(tmp_path: Path) -> None:
    shutil.copytree(NORTHMOOR, tmp_path / "northmoor")
    file = tmp_path / "northmoor" / "tables" / f"{TABLE}.yaml"
    text = file.read_text("utf-8")
    for rows, said in {
        "  - [0.035 m³, 3.3 mbar]\n  - [0.010 m³, 5.5 mbar]\n": "must be greater than in the row",
        "  - [0.010 m³, 77 mbar]\n": "is beyond any: 8\N{NO-BREAK SPACE}mbar is the most.",
    }.items():
        file.write_text(text.partition("rows:\n")[0] + "rows:\n" + rows, encoding="utf-8")
        project = load(layers=overlays.read([tmp_path / "northmoor"]))

        (problem,) = trial_fills.tried(project)
        assert said in problem.found
        assert problem.file == f"northmoor/tables/{TABLE}.yaml"


def test_a_later_layer_lies_over_an_earlier(tmp_path: Path) -> None:
    body = tmp_path / "body"
    body.mkdir()
    text = NOTHING.format("Awarding Body") + "emergency_contact: The body's number.\n"
    (body / "overlay.yaml").write_text(text, encoding="utf-8")
    found = settings(overlays=overlays.read([NORTHMOOR, body]))
    assert (found.site_name, found.emergency_contact) == ("Awarding Body", "The body's number.")
    assert found.colours == {"accent": "#0b5d57", "accent_dark": "#7fd4c9"}
    assert found.layers == ("Northmoor College", "Awarding Body")


@pytest.mark.parametrize("name", ["content", "with space", ".hidden"])
def test_a_folder_that_could_be_taken_for_another_is_refused(tmp_path: Path, name: str) -> None:
    folder = tmp_path / name
    folder.mkdir()
    (folder / "overlay.yaml").write_text(NOTHING.format("Any"), encoding="utf-8")
    with pytest.raises(overlays.NoOverlayError, match="can't stand in a folder called"):
        overlays.read([folder])


def test_a_folder_that_is_none_is_refused(tmp_path: Path) -> None:
    with pytest.raises(overlays.NoOverlayError, match=r"holds no overlay\.yaml"):
        overlays.read([tmp_path / "nowhere"])


def test_a_mark_is_written_anew_out_of_shapes() -> None:
    drawn = (NORTHMOOR / "mark.svg").read_text("utf-8")
    assert cleaned(drawn).startswith('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32">')
    for bad in ("<script>a</script>", '<a href="#x"/>', '<path style="fill:red"/>'):
        assert cleaned(drawn.replace("</svg>", f"{bad}</svg>")) == ""


def test_contrast_is_that_of_the_standard() -> None:
    """WCAG 2.2: black on white is 21 to 1, a colour on itself 1 to 1."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#0b5d57", "#0b5d57") == pytest.approx(1)
    # By hand: #767676 has a luminance of 0.18116, and 1.05 / 0.23116 is 4.542.
    assert contrast("#767676", "#fff") == pytest.approx(4.542, abs=0.001)


def test_a_new_overlay_keeps_every_rule(tmp_path: Path) -> None:
    told = new_overlay.begin(tmp_path / "eastmoor_college", broken.DAY)
    assert "pages/about.md" in told
    layers = overlays.read([tmp_path / "eastmoor_college"])
    texts = {each.file.partition("/")[2]: each.text for each in layers[0].documents.values()}
    assert broken.told(texts | {"pages/about.md": layers[0].markdown["about.md"]}) == []
    assert settings(overlays=layers).site_name == "Eastmoor College"
    with pytest.raises(new_overlay.NotBegunError, match="already there"):
        new_overlay.begin(tmp_path / "eastmoor_college", broken.DAY)
    with pytest.raises(new_overlay.NotBegunError, match="can't be the folder"):
        new_overlay.begin(tmp_path / "content", broken.DAY)


def test_what_is_worth_a_look_is_advised_and_not_refused(laid: Project) -> None:
    found = {(each.rule, each.file, each.line) for each in advice_on(laid)}
    assert found == {
        ("outcome-served", "northmoor/outcomes.yaml", 9),
        ("figure-invented", f"northmoor/tables/{TABLE}.yaml", 6),
        ("figure-invented", "northmoor/limits/bays.yaml", 8),
    }
    assert {each.severity for each in advice_on(laid)} == {"advice"}
    assert advice_on(the_project()) == []


def cell_of(text: str) -> dict[str, str]:
    """A number with its unit, or a word that is chosen."""
    value, _, unit = text.partition(" ")
    return {"value": value, "unit": unit} if value[0].isdigit() else {"value": text}


def test_the_step_of_a_visit_has_its_verdict_from_the_filled_table(
    bridge_of_host: Bridge, bridge: Any
) -> None:
    """A fall of 2 mbar in 0.020 m³, where the invented table permits 3.3 mbar."""
    readings = {
        "tightness.let_by_start": "8 mbar",
        "tightness.let_by_end": "8 mbar",
        "tightness.test_start": "20.5 mbar",
        "tightness.test_end": "18.5 mbar",
        "tightness.elapsed": "2 min",
        "pipework.installation_volume": "0.020 m³",
        "tightness.smell": "no smell",
        "pipework.appliances": "connected",
    }
    step = "tightness_test.end_reading"
    request = {
        "action": "outcomes",
        "today": TODAY,
        "steps": [step],
        "readings": {name: cell_of(text) for name, text in readings.items()},
        "answers": {"gas": "natural_gas", "age": "existing"},
    }
    held, asked = (
        json.loads(each.answer(json.dumps(request)))["outcomes"][step]
        for each in (bridge_of_host, bridge)
    )
    assert (held["state"], asked["state"]) == ("within", "not_judged")


def test_a_table_that_nothing_could_check_is_not_filled_in(tmp_path: Path) -> None:
    shutil.copytree(NORTHMOOR, tmp_path / "northmoor")
    file = tmp_path / "northmoor" / "tables" / "copper_pipe_flow.yaml"
    beneath = the_project().tables["copper_pipe_flow"]["values"][-1]
    assert beneath["provenance"] == "not-held"
    file.write_text(
        f"kind: table_filled\nof: copper_pipe_flow\n"
        f"source: {{id: {beneath['source']['id']}, where: copy 12}}\n"
        "read_on: 2026-11-03\nchecked_by: a second reader\nrows: [[15 mm, 3 m, 1 m³/h]]\n",
        encoding="utf-8",
    )
    project = load(layers=overlays.read([tmp_path / "northmoor"]))
    (problem,) = trial_fills.tried(project)
    assert problem.found == "'copper_pipe_flow' is no table that a host can fill in."
