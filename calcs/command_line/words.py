"""The words of the command line, and the request that they make."""

from __future__ import annotations

import argparse
from datetime import date
from typing import Any

from calcs.engine import batch, strict_json

BATCH = """
Each line of the input is one request in JSON, and each line of the output its reply, in order:

  {"calculator": "gas_rate", "inputs": {"volume": "0.088 m³", "elapsed": "120 s"},
   "date": "2026-03-01", "overrides": {"gas.natural_gas.gross_to_net": "1.11"}}

A value is a text as you would type it; a table is a list of rows, each an object of such texts.
A number without quotes counts as its text. date is the day of the test, today if left out.
overrides are figures from your own copy of a source, each by its name.
A reply is what run --json prints. Its status is "answered"; or "refused", with field, kind and
message of each refusal; or "failed", where the line could not be read. It repeats the calculator
where there is one of that name. The lines that follow are answered all the same. Ends with status
0 when the input has ended.
"""


def read_words(words: list[str] | None, today: str) -> argparse.Namespace:
    """The words read; inputs may stand before, between or after the options.

    Args:
        words: As they were typed; None for those of this process.
        today: Day of the test where none is named, as 2026-03-01.
    """
    parser = _parser(today)
    arguments, rest = parser.parse_known_args(words)
    strange = [word for word in rest if word.startswith("-") or arguments.command != "run"]
    if strange:
        parser.error(f"{strange[0]!r} is not known here")
    if arguments.command == "run":
        arguments.inputs = [*arguments.inputs, *rest]
    return arguments


def _parser(today: str) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m calcs", description="The handbook's sums.")
    commands = parser.add_subparsers(dest="command", required=True)
    laid = argparse.ArgumentParser(add_help=False)
    hint = "in a clone: a host's own layer over the handbook; the lowest first"
    laid.add_argument("--overlay", action="append", default=[], metavar="FOLDER", help=hint)
    common = argparse.ArgumentParser(add_help=False, parents=[laid])
    common.add_argument("--json", action="store_true", help="print the reply as JSON")
    commands.add_parser("list", parents=[common], help="every calculator")
    for name, text in (("show", "what a calculator asks and answers"), ("run", "an answer")):
        command = commands.add_parser(name, parents=[common], help=text)
        command.add_argument("calculator", metavar="ID")
        command.add_argument("--date", default=today, help="day of the test")
    words = "every question, one of them, or what is said to an answer"
    asked = commands.add_parser("practice", parents=[common], help=words)
    asked.add_argument("question", metavar="ID", nargs="?")
    asked.add_argument("--seed", default="1", help="the same seed gives the same question")
    hint = "a number with its unit; or the numbers of what you choose, with commas"
    asked.add_argument("--answer", help=hint)
    paper = commands.add_parser("paper", parents=[common], help="every paper, or one of them")
    paper.add_argument("paper", metavar="STEM", nargs="?")
    paper.add_argument("--seed", default="1", help="the same seed gives the same paper")
    paper.add_argument("--answers", action="store_true", help="with what each is marked by")
    forms = ("moodle", "qti21", "qti21_choices", "qti30", "scorm12")
    hint = f"into a file for a platform; FORM is {', '.join(forms[:-1])} or {forms[-1]}"
    paper.add_argument("--as", dest="form", nargs=2, metavar=("FORM", "FILE"), help=hint)
    hint = "instead: a seed for each of so many candidates, from yours"
    paper.add_argument("--class", dest="count", metavar="COUNT", help=hint)
    given = commands.choices["run"]
    given.add_argument("inputs", nargs="*", metavar='name="value unit"')
    hint = "a figure from your own copy of a source"
    given.add_argument(
        "--overrides", action="append", default=[], metavar='figure="value unit"', help=hint
    )
    commands.add_parser(
        "batch",
        parents=[laid],
        help="answers to requests in JSON, one a line",
        description="Answers requests in JSON, one a line, from standard input.",
        epilog=BATCH,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    return parser


def request_of(arguments: argparse.Namespace) -> dict[str, Any] | str:
    """The request that the words make, or what is wrong with them."""
    request: dict[str, Any] = {"action": arguments.command}
    if arguments.command == "list":
        return request
    try:
        day = date.fromisoformat(arguments.date)
    except ValueError:
        return f"--date: got {arguments.date!r}, expected a date such as 2026-03-01."
    request |= {"calculator": arguments.calculator, "today": day.isoformat()}
    if arguments.command == "run":
        for text in (*arguments.inputs, *arguments.overrides):
            if "=" not in text:
                return f'{text}: expected name="value unit", for example volume="0.088 m³".'
        for given in (arguments.inputs, arguments.overrides):
            names = [text.split("=", 1)[0] for text in given]
            if twice := next((name for name in names if names.count(name) > 1), None):
                return f"{twice}: given twice. Give it once."
        request["overrides"] = dict(text.split("=", 1) for text in arguments.overrides)
        typed = dict(text.split("=", 1) for text in arguments.inputs)
        request["inputs"] = batch.entered({name: _input(text) for name, text in typed.items()})
    return request


def _input(text: str) -> Any:
    """A value, or the rows of a table as a JSON list: sections='[{"length": "3 m"}, …]'."""
    if text.lstrip().startswith("["):
        try:
            return strict_json.loads(text)
        except strict_json.NotJson:
            return text
    return text
