"""Papers for a platform: it would score as is scored here, and no sign of a text is lost.

The readers of `read_exports.py` are of the standards alone; `zipfile` reads the archives.
"""

from __future__ import annotations

import binascii
import json
from dataclasses import replace

import pytest

from build_tools.pages.papers import FORMS as PLATFORMS
from calcs.engine.units import parse_unit, read_quantity
from calcs.practice import draw, marking, paper_marks, paper_reply, put
from calcs.practice.draw import Question
from calcs.practice.exports import forms, qti
from calcs.practice.exports.items import Choice, Item, Slip, items
from tests.calcs.practice import read_exports
from tests.calcs.practice.exported import EDITION, SEED, exported, files, found, numbers
from tests.calcs.practice.held import held, pack
from tests.calcs.practice.read_exports import Node, moodle_number, parsed, plain, right, score

RELEASES = ("qti21", "qti30")
MANIFESTS = {
    "qti21": "{http://www.imsglobal.org/xsd/imscp_v1p1}",
    "qti30": "{http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1}",
    "scorm12": "{http://www.imsproject.org/xsd/imscp_rootv1p1p2}",
}
TRICKY = 'flow < 3 & "rise" > 2 \N{EM DASH} </text>]]>'


def read(form: str) -> dict[str, Node]:
    """The items of a package."""
    names = [name for name in files(form) if name.startswith("items/")]
    read = [plain(parsed(files(form)[name])) for name in names]
    return {str(each.get("identifier")): each for each in read}


@pytest.mark.parametrize("form", RELEASES)
def test_a_number_has_the_marks_that_it_has_here(form: str) -> None:
    package, tried = read(form), 0
    for name, one in numbers():
        item, of = package[name], paper_marks.worth(one, pack())
        assert score(item, right(item)).score == of
        wide = marking.wide(one)
        for far, marks in ((0.99, of), (-0.99, of)):
            assert score(item, f"{one.right + far * wide:.12f}").score == marks
        assert score(item, None).score == 0
        assert score(item, f"{one.right * 7919 + 4999:.6f}").score == 0
        for slip, wrong in draw.wrong_numbers(one, pack()):
            given = {"text": f"{wrong.value:.15f}", "unit": one.unit}
            told = score(item, f"{wrong.value:.12f}")
            assert told.score == paper_marks.marked(one, given, pack())["marks"], (name, slip)
            assert f"ou {pack().slips[slip]}" in told.feedback
            tried += 1
    assert tried > 10


@pytest.mark.parametrize("form", [*RELEASES, "qti21_choices"])
def test_choices_are_right_where_they_are_here(form: str) -> None:
    package = read(form)
    for name, one in found().items():
        item = package[name]
        if one.asks in {*put.NUMBERS, "order"}:
            continue
        shown = read_exports.texts(item)
        assert list(shown.values()) == [each["text"] for each in one.items]
        key = right(item)
        told = marking.mark(one, put.right_answer(one), pack())
        chosen = key if isinstance(key, set) else {key}
        answers = told["answer"] if isinstance(told["answer"], list) else [told["answer"]]
        assert {shown[each] for each in chosen} == {*answers}
        assert score(item, key).score == paper_marks.worth(one, pack())
        for other in shown:
            if {other} != chosen:
                assert score(item, {other} if isinstance(key, set) else other).score == 0


def verdicts() -> dict[str, tuple[Question, list[str], dict[str, str]]]:
    """Each verdict of the paper: what is said to everybody, and to whoever chose what is wrong."""
    told = {}
    for name, one in found().items():
        if one.asks == "verdict":
            said = [marking.mark(one, {"chosen": [each["id"]]}, pack()) for each in one.items]
            lines = [f"Right: {said[0]['answer']}", said[0]["because"]]
            lines += [f"Why: {why}"] if (why := put.why(one)) else []
            did = {each["said"]: " ".join(slip["say"] for slip in each["slips"]) for each in said}
            told[name] = (one, lines, did)
    return told


def test_a_verdict_is_told_with_how_it_was_judged_and_with_its_reason_in_each_form() -> None:
    """As the page does: the reason comes behind what the calculator says of the reading."""
    quiz = {str(each.findtext("name/text")): each for each in parsed(exported("moodle"))}
    page = files("scorm12")["index.html"].decode()
    shown = json.loads(page.partition('type="application/json">')[2].partition("</script>")[0])
    scorm = {each["id"]: each for each in shown["items"]}
    packages, reasons = [read(form) for form in RELEASES], 0
    for name, (one, lines, did) in verdicts().items():
        reasons += len(lines) == 3
        question = next(each for text, each in quiz.items() if text.startswith(f"{name}: "))
        assert read_exports.html(question, "generalfeedback") == "".join(lines)
        assert scorm[name]["feedback"] == lines
        answers, choices = question.findall("answer"), scorm[name]["choices"]
        for choice, answer, packed in zip(one.items, answers, choices, strict=True):
            slip = did[choice["text"]]
            told = [read_exports.html(answer, "feedback"), packed["feedback"]]
            for package in packages:
                ids = {text: each for each, text in read_exports.texts(package[name]).items()}
                answered = score(package[name], ids[choice["text"]])
                assert answered.explained == tuple(lines)
                told.append(answered.feedback)
            assert all(slip in each for each in told), (name, slip, told)
            if choice["id"] == one.right:
                assert {*told} == {""}
            if choice["id"] == "meets" != one.right and one.template.get("safety") == "yes":
                assert all("could hurt someone" in each for each in told)
    assert reasons


def test_an_order_is_asked_pair_by_pair() -> None:
    package, seen = read("qti21"), 0
    for name, one in found().items():
        if one.asks != "order":
            continue
        texts = {each["id"]: each["text"].rstrip(".") for each in one.template["order"]["steps"]}
        pairs = {(texts[p["first"]], texts[p["then"]]) for p in one.template["order"]["pairs"]}
        key = right(package[name])
        for each, said in read_exports.texts(package[name]).items():
            first, _, then = said.rstrip(".").partition(". Then: ")
            assert ((first, then) in pairs) == (each in key)
            assert ((then, first) in pairs) == (each not in key)
            seen += 1
    assert seen > 4


def test_the_twin_has_the_slips_for_lures() -> None:
    package, twins = read("qti21_choices"), 0
    for name, one in numbers():
        shown = read_exports.texts(package[name])
        if not shown:
            continue
        twins += 1
        assert shown[str(right(package[name]))] == one.text
        assert len({*shown.values()}) == len(shown) >= 3
        wrong = [each.value for _, each in draw.wrong_numbers(one, pack())]
        for text in {*shown.values()} - {one.text}:
            value = read_quantity("answer", text, one.unit, (one.unit,)).to(parse_unit(one.unit))
            off = [abs(float(value.magnitude) - each) - 0.06 * abs(each) for each in wrong]
            assert min(off) <= 0, (name, text)
    assert twins > 5


@pytest.mark.parametrize("form", [*RELEASES, "qti21_choices", "scorm12"])
def test_a_package_lists_its_files_and_no_other(form: str) -> None:
    space = MANIFESTS[form.removesuffix("_choices")]
    manifest = parsed(files(form)["imsmanifest.xml"])
    assert manifest.tag == f"{space}manifest"
    listed = [str(each.get("href")) for each in manifest.iter(f"{space}file")]
    assert sorted([*listed, "imsmanifest.xml"]) == sorted(files(form))
    ids = [each.get("identifier") for each in manifest.iter(f"{space}resource")]
    assert len({*ids}) == len(ids)
    needed = {each.get("identifierref") for each in manifest.iter(f"{space}dependency")}
    assert needed <= {*ids}


@pytest.mark.parametrize("form", RELEASES)
def test_the_test_of_a_package_asks_each_item_once(form: str) -> None:
    whole = plain(parsed(files(form)["test.xml"]))
    refs = [each.get("href") for each in whole.iter("assessmentItemRef")]
    assert refs == [name for name in files(form) if name.startswith("items/")]
    assert len(refs) == 40


def test_a_platform_of_moodle_grades_as_is_marked_here() -> None:
    quiz = parsed(exported("moodle"))
    asked = [each for each in quiz if each.get("type") != "category"]
    assert len(asked) == 40
    for question, (name, one) in zip(asked, found().items(), strict=True):
        assert str(question.findtext("name/text")).startswith(f"{name}: ")
        of = paper_marks.worth(one, pack())
        assert question.findtext("defaultgrade") == str(of)
        if one.asks not in put.NUMBERS:
            assert question.get("type") == "multichoice"
            fractions = [float(str(each.get("fraction"))) for each in question.findall("answer")]
            assert sum(each for each in fractions if each > 0) == pytest.approx(100, abs=1e-3)
            continue
        for unit in put.put(one)["units"]:
            typed = marking.in_unit(one, unit["unit"])
            assert moodle_number(question, typed, unit["text"])[0] == 100, (name, unit)
        for _, wrong in draw.wrong_numbers(one, pack()):
            given = {"text": f"{wrong.value:.15f}", "unit": one.unit}
            marks = paper_marks.marked(one, given, pack())["marks"]
            fraction, words = moodle_number(question, wrong.value, "")
            assert fraction == pytest.approx(100 * marks / of, abs=1e-4)
            assert words
        assert question.findtext("questiontext/file") if "drawing" in put.put(one) else True


def tricky(kind: str) -> list[Item]:
    about = Item("q01_x", TRICKY, TRICKY, 1, (TRICKY,), picture="<svg/>", picture_words=TRICKY)
    if kind == "number":
        slip = Slip("2", "0.1", TRICKY, 0)
        return [replace(about, value="1", tolerance="0.1", unit="%", slips=(slip,))]
    choices = (Choice(TRICKY, right=True), Choice(f"{TRICKY}!", right=False, feedback=TRICKY))
    return [replace(about, choices=choices)]


@pytest.mark.parametrize("kind", ["number", "choice"])
def test_no_sign_of_a_text_is_lost_or_means_anything(kind: str) -> None:
    for release in (qti.QTI_2_1, qti.QTI_3_0):
        item = plain(parsed(qti.item(tricky(kind)[0], release)))
        assert item.get("title") == TRICKY
        assert item.findtext("itemBody/p") == TRICKY
        assert item.find(".//img").get("alt") == TRICKY  # type: ignore[union-attr]
        modals = item.findall("modalFeedback")
        assert ["".join(each.itertext()) for each in modals] == [TRICKY, TRICKY]
        if kind == "choice":
            assert [*read_exports.texts(item).values()] == [TRICKY, f"{TRICKY}!"]
    quiz = parsed(forms.moodle.quiz(tricky(kind), TRICKY))
    question = quiz[1]
    assert question.findtext("name/text") == f"q01_x: {TRICKY}"
    assert read_exports.html(question, "questiontext").startswith(TRICKY)
    assert read_exports.html(question, "generalfeedback") == TRICKY
    wrong = question.findall("answer")[1]
    assert read_exports.html(wrong, "feedback") == TRICKY
    made = forms.scorm.files(tricky(kind), TRICKY, 1)
    assert TRICKY not in made["index.html"]
    assert "</text>" not in made["index.html"]
    assert parsed(made["imsmanifest.xml"]) is not None


def test_the_same_paper_is_the_same_bytes() -> None:
    again = forms.drawn(held()["whole_visit"], SEED, EDITION, pack())
    for form, (_, make) in forms.FORMS.items():
        assert make(again) == exported(form), form


def test_a_page_and_the_command_line_are_given_these_bytes() -> None:
    asked = {"about": "paper_file", "paper": "whole_visit", "seed": SEED, "edition": EDITION}
    for form, (ending, _) in forms.FORMS.items():
        reply = paper_reply.reply({**asked, "form": form}, held(), pack())["practice"]
        assert reply["name"] == f"whole_visit-7-{form}{ending}"
        assert binascii.a2b_base64(reply["base64"]) == exported(form)
    told = paper_reply.reply({**asked, "form": "paper"}, held(), pack())
    assert told["refused"][0]["message"].startswith("There is no form 'paper': moodle, ")
    assert {*PLATFORMS} == {*forms.FORMS}


def test_every_item_of_the_paper_is_asked_in_each_form() -> None:
    asked = items([*found().values()], pack())
    assert [each.id for each in asked] == [*found()]
    assert all(bool(each.picture) == ("drawing" in put.put(found()[each.id])) for each in asked)
