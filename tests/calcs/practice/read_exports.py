"""Readers of exported papers, written from the standards and from nothing of `calcs`.

QTI: IMS Question & Test Interoperability 2.1, information model, 6 (items) and 8 (response
processing); 3.0 has the same elements, their names in small letters with hyphens behind `qti-`.
Moodle: its documentation, "Moodle XML format" and "Numerical question type": the first answer
within whose tolerance a response lies has its fraction; a unit's multiplier says how much of it
one of the first unit is. The markup is read by Python's own parser of XML.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree as ET

Node = ET.Element
SPACES = {
    "http://www.imsglobal.org/xsd/imsqti_v2p1": False,
    "http://www.imsglobal.org/xsd/imsqtiasi_v3p0": True,
}


def parsed(text: str | bytes) -> Node:
    """The root of an XML text."""
    return ET.fromstring(text)  # noqa: S314  this project wrote it, just now


def plain(node: Node) -> Node:
    """An item of either release, with the names of 2.1 and without namespaces."""
    space, _, name = node.tag[1:].partition("}")
    is_third = SPACES[space]
    if is_third and name.startswith("qti-"):
        name = camel(name.removeprefix("qti-"))
    found = ET.Element(name)
    for key, value in node.attrib.items():
        if not key.startswith("{"):
            found.set(camel(key) if is_third else key, value)
    found.text, found.tail = node.text, node.tail
    found.extend([plain(each) for each in node])
    return found


def camel(name: str) -> str:
    return re.sub(r"-([a-z])", lambda found: found[1].upper(), name)


@dataclass
class Scored:
    """What an item says to a response."""

    score: float
    feedback: str
    explained: tuple[str, ...] = ()


def score(item: Node, response: str | set[str] | None) -> Scored:
    """The score of a response, by the item's own response processing."""
    outcomes = {"SCORE": "0", "FEEDBACK": "", "EXPLAINED": ""}
    declared = {each.get("identifier") for each in item.iter("outcomeDeclaration")}
    assert {"MAXSCORE", *outcomes} <= declared
    for condition in item.findall("responseProcessing/*"):
        if condition.tag == "setOutcomeValue":  # a rule that no condition holds back
            outcomes[str(condition.get("identifier"))] = str(condition[0].text)
            continue
        assert condition.tag == "responseCondition"
        for branch in condition:
            assert branch.tag in {"responseIf", "responseElseIf"}
            test, *rules = list(branch)
            if holds(test, item, response):
                for rule in rules:
                    assert rule.tag == "setOutcomeValue"
                    outcomes[str(rule.get("identifier"))] = str(rule[0].text)
                break
    [told], [explained] = (
        _modals(item, each, outcomes[each]) or [[]] for each in ("FEEDBACK", "EXPLAINED")
    )
    return Scored(float(outcomes["SCORE"]), "".join(told), tuple(explained))


def _modals(item: Node, outcome: str, name: str) -> list[list[str]]:
    """The lines of what is shown for an outcome."""
    shown = [
        ["".join(line.itertext()) for line in each.iter("p")]
        for each in item.findall("modalFeedback")
        if each.get("outcomeIdentifier") == outcome
        and each.get("identifier") == name
        and each.get("showHide") == "show"
    ]
    assert len(shown) == bool(name), "a feedback that is not there"
    return shown


def holds(test: Node, item: Node, response: str | set[str] | None) -> bool:
    if test.tag == "and":
        return all(holds(each, item, response) for each in test)
    if test.tag == "not":
        return not holds(test[0], item, response)
    if test.tag == "isNull":
        return value(test[0], item, response) is None
    first, second = (value(each, item, response) for each in test)
    if first is None or second is None:
        return False  # NULL, which counts as false
    if test.tag == "match":
        return bool(first == second)
    assert test.tag in {"gte", "lte"}
    off = float(str(first)) - float(str(second))
    return off >= 0 if test.tag == "gte" else off <= 0


def value(node: Node, item: Node, response: str | set[str] | None) -> str | set[str] | None:
    if node.tag == "baseValue":
        return str(node.text)
    assert node.get("identifier") == "RESPONSE"
    return response if node.tag == "variable" else right(item)


def right(item: Node) -> str | set[str]:
    """The right response of an item."""
    declared = item.find("responseDeclaration")
    assert declared is not None
    values = [str(each.text) for each in declared.findall("correctResponse/value")]
    if declared.get("cardinality") == "multiple":
        return set(values)
    [only] = values
    return only


def texts(item: Node) -> dict[str, str]:
    """What may be chosen, by identifier."""
    return {str(each.get("identifier")): str(each.text) for each in item.iter("simpleChoice")}


def moodle_number(question: Node, typed: float, unit: str) -> tuple[float, str]:
    """Fraction and feedback of a number that is typed with a unit."""
    units = {
        str(each.findtext("unit_name")): float(str(each.findtext("multiplier")))
        for each in question.findall("units/unit")
    }
    number = typed / units[unit] if unit else typed
    for answer in question.findall("answer"):
        off = abs(number - float(str(answer.findtext("text"))))
        if off <= float(str(answer.findtext("tolerance"))):
            return float(str(answer.get("fraction"))), html(answer, "feedback")
    return 0.0, ""


def html(node: Node, name: str) -> str:
    """The words of a text that is HTML inside XML."""
    held = str(node.findtext(f"{name}/text") if name else node.findtext("text"))
    root = parsed(f"<div>{held if held != 'None' else ''}</div>")
    return "".join(root.itertext())
