"""The strict reader: what a plain YAML loader changes or forgets, this one keeps."""

from pathlib import Path

import pytest

from build_tools.sources.problems import Problem, nearest, report
from build_tools.sources.read_yaml import Mark, read_file, read_text


@pytest.mark.parametrize(
    "written",
    [
        "2:30",
        "010",
        "no",
        "9.10",
        "2026-10-01",
        "1e3",
        "null",
        "~",
        "0x1F",
        "1_000",
        "21 mbar",
        "=",
    ],
)
def test_a_value_stays_as_it_was_written(written: str) -> None:
    assert read_text(f"value: {written}", "x.yaml").value == {"value": written}


def test_a_key_stays_as_it_was_written() -> None:
    assert list(read_text("no: 1\n010: 2\n2:30: 3", "x.yaml").value) == ["no", "010", "2:30"]


def test_nothing_after_a_colon_is_empty_text() -> None:
    assert read_text("value:", "x.yaml").value == {"value": ""}


def test_the_place_of_every_value_and_key_is_kept() -> None:
    document = read_text("steps:\n  - do: Open it.\n    why: é {x}\n  - do: Shut it.\n", "x.yaml")
    assert document.mark(("steps", 1, "do")) == Mark(4, 9)
    assert document.mark(("steps", 0, "why"), key=True) == Mark(3, 5)
    assert document.mark(("steps", 1)) == Mark(4, 5)


def test_an_absent_part_has_the_place_of_what_it_is_missing_from() -> None:
    document = read_text("steps:\n  - do: Open it.\n", "x.yaml")
    assert document.mark(("steps", 0, "why", 3)) == Mark(2, 5)


def test_a_byte_order_mark_and_windows_line_ends_change_nothing(tmp_path: Path) -> None:
    path = tmp_path / "x.yaml"
    path.write_bytes("\ufeffkind: nav\r\ntitle: |\r\n  a\r\n  b\r\n".encode())
    document = read_file(path, "x.yaml")
    assert document.value == {"kind": "nav", "title": "a\nb\n"}
    assert document.mark(("title",), key=True) == Mark(2, 1)


def test_another_encoding_is_named_by_its_line(tmp_path: Path) -> None:
    path = tmp_path / "x.yaml"
    path.write_bytes("kind: nav\ntitle: 15 °C\n".encode("latin-1"))
    (problem,) = read_file(path, "x.yaml").problems
    assert (problem.line, problem.fix) == (
        2,
        "write this character anew and save the file as UTF-8",
    )


def test_one_run_tells_all() -> None:
    document = read_text("a: &x 1\na: 2\nb: !t 3\n", "x.yaml")
    assert [problem.line for problem in sorted(document.problems)] == [1, 2, 3]


def test_a_problem_is_printed_in_the_form_of_the_house() -> None:
    problem = Problem(
        "a.yaml", 9, 3, "inputs.elasped", "It has no 'elasped'.", "It has: elapsed.", "x"
    )
    assert str(problem) == (
        "a.yaml:9:3  inputs.elasped\n    It has no 'elasped'. It has: elapsed.\n    Fix: x."
    )


def test_a_report_is_in_order_and_says_each_thing_once() -> None:
    late = Problem("b.yaml", 2, 1, "", "Found.", "", "mend it")
    early = Problem("a.yaml", 10, 1, "", "Found.", "", "mend it")
    text = report([late, early, late])
    assert text.index("a.yaml") < text.index("b.yaml")
    assert text.endswith("2 problems found.")
    assert text.count("b.yaml") == 1


def test_the_nearest_name_is_offered_only_when_it_is_near() -> None:
    assert nearest("elasped", ["volume", "elapsed"]) == "elapsed"
    assert nearest("sunshine", ["volume", "elapsed"]) is None
