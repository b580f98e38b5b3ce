"""What a question may say that is not its own: acts of steps, reasons, words of calculators."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from build_tools.sources.days import in_force
from build_tools.sources.project import Project, stem_of

SOURCES = (
    *("text", "step", "list", "term", "option", "note", "ruling"),
    *("output", "reading", "figure", "known", "made", "check"),
)
SAID = {"note", "ruling", "output"}  # by a calculator
MARKS = ("slip", "unsafe", "not")


class Unknown(Exception):
    """A question names what is not there; `what` it would be, and the names that there are."""

    def __init__(self, what: str, name: str, known: list[str] | None = None) -> None:
        super().__init__(f"There is no {what} '{name}'.")
        self.known = known or []


class Texts:
    """The words of the handbook, by what names them in a question."""

    def __init__(self, project: Project) -> None:
        self.project = project
        procedures = [*project.of_kind("procedure")]
        self.procedures = {stem_of(each.file): each.value for each in procedures}
        self.steps = {
            f"{stem_of(step.document.file)}.{step['id'].value}": step.value
            for step in project.each("procedure", "steps", ...)
            if {"id", "do", "why"} <= {*step.names}
        }
        self.calculators = {
            stem_of(document.file): document.value for document in project.of_kind("calculator")
        }
        self.sections = {
            f"{stem_of(each.document.file)}.{each['id'].value}": each.value
            for each in project.each("reference", "sections", ...)
        }
        self.terms = {term.key: str(term.value) for term in project.each("reference", "terms", ...)}
        self.checks = {
            check["id"].value: check.value
            for check in project.each("procedure", "checks", ...)
            if {"id", "do"} <= {*check.names}
        }

    def item(self, one: Mapping[str, Any]) -> dict[str, Any]:
        """What may be chosen, in words: its text, the reason that belongs to it, its marks.

        Raises:
            Unknown: It names what is not there.
        """
        source = next((key for key in SOURCES if key in one), "text")
        is_said = source in SAID
        found = self._words(one, source) if is_said else getattr(self, f"_{source}")(one)
        return {**found, **{key: one[key] for key in MARKS if key in one}}

    def step(self, name: str) -> Mapping[str, Any]:
        """A step.

        Raises:
            Unknown: There is none of that name.
        """
        if name not in self.steps:
            stem = name.partition(".")[0]
            raise Unknown("step", name, [each for each in self.steps if each.startswith(stem)])
        found: Mapping[str, Any] = self.steps[name]
        return found

    def branch(self, name: str, number: str) -> Mapping[str, Any]:
        """An `if` of a step, counted from one."""
        branches = self.step(name).get("if", [])
        if not 0 < int(number) <= len(branches):
            raise Unknown("if", f"{name}, {number}")
        found: Mapping[str, Any] = branches[int(number) - 1]
        return found

    def figure(self, name: str) -> str:
        """The value in force of a figure."""
        dated = self._dated(name, self.project.day)
        if "value" not in dated:
            raise Unknown("figure in force", name)
        return str(dated["value"])

    def _dated(self, name: str, day: date) -> Mapping[str, Any]:
        values = self.project.figures.get(name, {}).get("values", [])
        dated = in_force(values, day)
        if dated is None:
            raise Unknown("figure in force", name)
        return dated

    def _text(self, one: Mapping[str, Any]) -> dict[str, Any]:
        return {"text": one.get("text", "")}

    def _step(self, one: Mapping[str, Any]) -> dict[str, Any]:
        step = self.step(one["step"])
        if "if" in one:
            branch = self.branch(one["step"], one["if"])
            part = "when" if one.get("part") == "when" else "do"
            return {"text": branch[part], "why": step["why"], "when": branch["when"]}
        part = one.get("part", "do")
        if part not in step:
            raise Unknown(f"'{part}' of", one["step"])
        found = step[part]
        return {"text": found if isinstance(found, str) else found[0], "why": step["why"]}

    def _list(self, one: Mapping[str, Any]) -> dict[str, Any]:
        stem, _, key = one["list"].partition(".")
        listed = self.procedures.get(stem, {}).get(key, [])
        number = int(one.get("item", "1"))
        if not isinstance(listed, list) or not 0 < number <= len(listed):
            raise Unknown("line", f"{one['list']}, {number}")
        found = listed[number - 1]  # an instrument has what it is for beside its name
        return {"text": str(found["use"] if isinstance(found, dict) else found)}

    def _term(self, one: Mapping[str, Any]) -> dict[str, Any]:
        if one["term"] not in self.terms:
            raise Unknown("term", one["term"], list(self.terms))
        return {"text": self.terms[one["term"]]}

    def _words(self, one: Mapping[str, Any], key: str) -> dict[str, Any]:
        """What a calculator says under a name."""
        stem, _, name = one[key].partition(".")
        words = self.calculators.get(stem, {}).get(f"{key}s", {})
        if name not in words:
            raise Unknown(key, one[key], [f"{stem}.{each}" for each in words])
        found = words[name]
        return {"text": found if isinstance(found, str) else found["label"]}

    def _option(self, one: Mapping[str, Any]) -> dict[str, Any]:
        stem, _, rest = one["option"].partition(".")
        name, _, option = rest.partition(".")
        options = self.calculators.get(stem, {}).get("inputs", {}).get(name, {}).get("options", {})
        if option not in options:
            raise Unknown("option", one["option"], [f"{stem}.{name}.{each}" for each in options])
        return {"text": options[option]}

    def _reading(self, one: Mapping[str, Any]) -> dict[str, Any]:
        readings = self.project.one("visit_record")
        if one["reading"] not in readings:
            raise Unknown("reading", one["reading"], list(readings))
        return {"text": readings[one["reading"]]["label"]}

    def _figure(self, one: Mapping[str, Any]) -> dict[str, Any]:
        return {"text": self.figure(one["figure"])}

    def _known(self, one: Mapping[str, Any]) -> dict[str, Any]:
        """The name of a figure that is known `as` well as that, or its edition `on` a day."""
        name = one["known"]
        if "on" in one:
            dated = self._dated(name, date.fromisoformat(one["on"]))
            if "edition" not in dated:
                raise Unknown("edition of", name)
            return {"text": str(dated["edition"])}
        if self._dated(name, self.project.day).get("provenance") != one.get("as"):
            raise Unknown(f"figure {one.get('as')}", name)
        return {"text": str(self.project.figures[name]["label"])}

    def _made(self, one: Mapping[str, Any]) -> dict[str, Any]:
        return {"text": f"{{{one['made']}}}"}

    def _check(self, one: Mapping[str, Any]) -> dict[str, Any]:
        if one["check"] not in self.checks:
            raise Unknown("check", one["check"], list(self.checks))
        return {"text": str(self.checks[one["check"]]["do"])}

    def applies(self, check: str, visit: Mapping[str, str]) -> bool:
        """Whether the table of checks asks for one at such a visit."""
        wanted = self.checks[check].get("when", {})
        return all(
            visit.get(name) in (fits if isinstance(fits, list) else [fits])
            for name, fits in wanted.items()
        )

    def misplaced(self, part: Mapping[str, Any]) -> Iterator[str]:
        """Checks that are right where the table does not ask for them at that visit, or wrong."""
        rights = part.get("right", [])
        rights = rights if isinstance(rights, list) else [rights]
        for is_right, items in ((True, rights), (False, part.get("lures", []))):
            for one in items:
                name = one.get("check") if isinstance(one, dict) else None
                if name in self.checks and self.applies(name, part["visit"]) is not is_right:
                    yield name

    def points(self, section: str) -> dict[str, str]:
        """The points of a section of a reference, what stands before the colon and after it.

        Raises:
            Unknown: There is no such section.
        """
        if section not in self.sections:
            raise Unknown("section", section, list(self.sections))
        found = (str(each).partition(": ") for each in self.sections[section].get("points", []))
        return {head: rest for head, _, rest in found}


def items_of(template: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """Everything that may be chosen, wherever a template has it."""
    for part in (template, *template.get("cases", ())):
        right = part.get("right", [])
        yield from right if isinstance(right, list) else [right]
        yield from part.get("lures", ())
