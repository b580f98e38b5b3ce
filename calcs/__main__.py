"""The calculators at the command line: `list`, `show`, `run`, `batch`, `practice`, `paper`."""

from __future__ import annotations

import argparse
import binascii
import io
import json
import os
import subprocess
import sys
from datetime import date, datetime
from pathlib import Path
from typing import Any

from calcs.bridge import Bridge
from calcs.engine import batch, strict_json
from calcs.engine.reply import public

BUNDLE = Path(__file__).with_name("bundle.json")
QUESTIONS = Path(__file__).with_name("practice.json")
ROOT = BUNDLE.parent.parent  # of a clone; of nothing that matters once installed
ANSWERED, REFUSED, INTERRUPTED = 0, 2, 130
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


def main(words: list[str] | None = None) -> int:
    """Run one command. Returns 0 with an answer, 2 when an input is refused."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A sign that the screen has no code for is no reason to lose the answer.
            stream.reconfigure(errors="backslashreplace")
    arguments = _arguments(words)
    _refresh()
    if not BUNDLE.exists():
        print(
            f"{BUNDLE} is not there: the calculators have no figures yet.\n"
            f"Fix: python3 build_tools/start.py check",
            file=sys.stderr,
        )
        return REFUSED
    bridge = Bridge(BUNDLE.read_text(encoding="utf-8"))
    if arguments.command == "batch":
        return _batch(bridge)
    if arguments.command in {"practice", "paper"}:
        return _practice(bridge, arguments)
    request = _request(arguments)
    if isinstance(request, str):
        print(request, file=sys.stderr)
        return REFUSED
    reply = bridge.reply(request)
    return _report(arguments, reply)


def _batch(bridge: Bridge) -> int:
    """Reply to each line of the standard input, and hand each reply over at once."""
    out = sys.stdout.buffer
    for reply in batch.replies(sys.stdin.buffer, bridge.reply, _today()):
        out.write(reply.encode("utf-8") + b"\n")
        out.flush()
    return ANSWERED


def _refresh() -> None:
    """In a clone, have the build write the bundle again when its sources are newer.

    Somebody who has just changed a limit must not get an answer with the old one.
    """
    sources = [path for name in ("data", "content") for path in (ROOT / name).rglob("*.yaml")]
    if not (ROOT / "build_tools").is_dir() or not sources:
        return
    written = BUNDLE.stat().st_mtime if BUNDLE.exists() else 0.0
    if max(path.stat().st_mtime for path in sources) < written:
        return
    write = "from build_tools.runtime import bundle, practice_pack as p; p.write(bundle.write())"
    done = subprocess.run(
        [sys.executable, "-c", write], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if done.returncode:
        # The last line is the message; what stands before it is for the build's own authors.
        print(f"The figures could not be read: {done.stderr.strip()}", file=sys.stderr)


def _arguments(words: list[str] | None) -> argparse.Namespace:
    """The words read; inputs may stand before, between or after the options."""
    parser = _parser()
    arguments, rest = parser.parse_known_args(words)
    strange = [word for word in rest if word.startswith("-") or arguments.command != "run"]
    if strange:
        parser.error(f"{strange[0]!r} is not known here")
    if arguments.command == "run":
        arguments.inputs = [*arguments.inputs, *rest]
    return arguments


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m calcs", description="The handbook's sums.")
    commands = parser.add_subparsers(dest="command", required=True)
    common = argparse.ArgumentParser(add_help=False)
    common.add_argument("--json", action="store_true", help="print the reply as JSON")
    commands.add_parser("list", parents=[common], help="every calculator")
    for name, text in (("show", "what a calculator asks and answers"), ("run", "an answer")):
        command = commands.add_parser(name, parents=[common], help=text)
        command.add_argument("calculator", metavar="ID")
        command.add_argument("--date", default=_today(), help="day of the test")
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
        help="answers to requests in JSON, one a line",
        description="Answers requests in JSON, one a line, from standard input.",
        epilog=BATCH,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    return parser


def _today() -> str:
    return datetime.now().astimezone().date().isoformat()


def _request(arguments: argparse.Namespace) -> dict[str, Any] | str:
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


def _report(arguments: argparse.Namespace, reply: dict[str, Any]) -> int:
    refused = _refused(reply)
    if arguments.json:
        # The answer itself is printed: the shape that `batch` gives on one line.
        asked = getattr(arguments, "calculator", None)  # `list` asks for none
        is_reply = arguments.command == "run" or refused
        told = public(reply, asked) if is_reply else _shape(reply)
        print(json.dumps(told, ensure_ascii=False, indent=2))
    elif refused:
        print("\n".join(one.get("plain", one["message"]) for one in refused), file=sys.stderr)
    elif arguments.command == "list":
        print("\n".join(f"{one['id']:24}{one['title']}" for one in reply["list"]))
    elif arguments.command == "show":
        print(_shown(reply["show"]))
    else:
        print(_answered(reply["answer"]))
    return REFUSED if refused else ANSWERED


def _practice(bridge: Bridge, arguments: argparse.Namespace) -> int:
    """Print a question, what is said to an answer, or a paper."""
    # Late: whoever asks a calculator needs none of it.
    from calcs.practice import door  # noqa: PLC0415

    if not QUESTIONS.exists():
        fix = "Fix: python3 build_tools/start.py build"
        print(f"{QUESTIONS} is not there: no build has made it.\n{fix}", file=sys.stderr)
        return REFUSED
    door.load(QUESTIONS.read_text(encoding="utf-8"))
    if arguments.command == "paper":
        return _paper(bridge, arguments)
    request = {"action": "practice", "question": arguments.question, "seed": arguments.seed}
    about = "question" if arguments.question else "list"
    reply = bridge.reply({**request, "about": about})
    if arguments.answer and "practice" in reply:
        given = _given(reply["practice"], arguments.answer)
        reply = bridge.reply({**request, "about": "mark", "given": given})
    refused = _refused(reply)
    if refused:
        print("\n".join(each["message"] for each in refused), file=sys.stderr)
    elif arguments.json or arguments.answer:
        print(json.dumps(reply["practice"], ensure_ascii=False, indent=2))
    elif about == "list":
        print("\n".join(f"{each['id']:28}{each['title']}" for each in reply["practice"]))
    else:
        items = [f"  {place}. {each['text']}" for place, each in _counted(reply["practice"])]
        drawn = [reply["practice"]["drawing"]["words"]] if "drawing" in reply["practice"] else []
        print("\n".join([reply["practice"]["stem"], *drawn, *items]))
    return REFUSED if refused else ANSWERED


def _paper(bridge: Bridge, arguments: argparse.Namespace) -> int:
    """Print the papers, one of them, or the seeds of a class."""
    from calcs.practice import paper_text  # noqa: PLC0415  late, as the door is

    about = "paper_key" if arguments.answers else "paper"
    about = about if arguments.paper else "papers"
    about = "class" if arguments.count else about
    asked = {"paper": arguments.paper, "seed": arguments.seed, "count": arguments.count}
    reply = bridge.reply({"action": "practice", "about": about, **asked})
    refused = _refused(reply)
    if refused:
        print("\n".join(each["message"] for each in refused), file=sys.stderr)
        return REFUSED
    made = reply["practice"]
    if arguments.form and about == "paper":
        return _exported(bridge, made, *arguments.form)
    told = json.dumps(made, ensure_ascii=False, indent=2)
    print(told if arguments.json else paper_text.told(about, made, bridge.reference.edition))
    return ANSWERED


def _exported(bridge: Bridge, made: dict[str, Any], form: str, file: str) -> int:
    """Write a paper into a file for a platform."""
    asked = {"paper": made["id"], "seed": made["seed"], "form": form}
    edition = bridge.reference.edition
    request = {"action": "practice", "about": "paper_file", "edition": edition, **asked}
    reply = bridge.reply(request)
    refused = _refused(reply)
    if refused:
        print(f"--as: {refused[0]['message']}", file=sys.stderr)
        return REFUSED
    try:
        Path(file).write_bytes(binascii.a2b_base64(reply["practice"]["base64"]))
    except OSError as problem:
        print(f"{file}: it could not be written. {problem.strerror}.", file=sys.stderr)
        return REFUSED
    return ANSWERED


def _counted(question: dict[str, Any]) -> list[tuple[int, Any]]:
    return list(enumerate(question["items"], start=1))


def _given(question: dict[str, Any], typed: str) -> dict[str, Any]:
    """An answer as a page would send it: a number, or places counted from one."""
    if not question["items"]:
        return {"text": typed}
    places = [int(each) - 1 for each in typed.split(",") if each.strip().isdigit()]
    names = [question["items"][place]["id"] for place in places if place < len(question["items"])]
    if question["asks"] == "order":
        return {"order": names}
    return {"chosen": names if question["asks"] == "verdict" else places}


def _refused(reply: dict[str, Any]) -> list[dict[str, Any]]:
    """What was refused of a request, or why it failed; empty where there is an answer."""
    return reply.get("refused") or ([reply["failed"]] if "failed" in reply else [])


def _shape(reply: dict[str, Any]) -> Any:
    """What `list` or `show` gives, without the name of the action round it."""
    return next(iter(reply.values()))


def _shown(found: dict[str, Any]) -> str:
    lines = [found["title"], "", "Inputs", *_inputs_shown(found["inputs"], 2)]
    lines += ["", "Answers"]
    lines += [f"  {item['name']:37} {item['unit']}" for item in found["outputs"]]
    return "\n".join(lines)


def _inputs_shown(inputs: list[dict[str, Any]], indent: int) -> list[str]:
    """One line for each input with what it accepts; a table's columns stand under it."""
    lines = []
    for item in inputs:
        accepts = item["kind"]
        if item["kind"] == "quantity":
            accepts = f"{item['low']:g} to {item['high']:g} {item['unit']}".rstrip()
        elif item["kind"] == "rows":
            columns = item["columns"]
            needed = [one for one in columns if not one.get("optional") and not one["when"]]
            example = json.dumps([{(needed or columns)[0]["name"]: "…"}], ensure_ascii=False)
            accepts = f"{item['low']} to {item['high']} rows such as {example}, of"
        elif "options" in item:
            accepts = " | ".join(option["value"] for option in item["options"])
        when = item.get("when")
        told = f"  when {when['input']} is {' or '.join(when['is'])}" if when else ""
        told += "  (optional)" if item.get("optional") else ""
        lines.append(f"{' ' * indent}{item['name']:37} {accepts}{told}")
        lines += _inputs_shown(item.get("columns", []), indent + 4)
    return lines


def _answered(found: dict[str, Any]) -> str:
    lines = [
        f"{item['label']}: {item['text']} {item['uncertainty_text']}".rstrip()
        for item in found["answers"]
    ]
    lines += found["no_uncertainty_reasons"]
    lines += [
        f"{item['label']}: {item['outcome'].replace('_', ' ')}. {item['text']}"
        for item in found["verdicts"]
    ]
    lines += [item["text"] for item in found["notes"]]
    for table in found["tables"]:
        lines += ["", table["label"], *_columns(table)]
    lines += ["", "Working"]
    for step in found["working"]:
        lines.append(
            f"  {step['label']} = {step['symbols']} = {step['numbers']} = {step['result']}"
        )
    lines += ["", f"Edition {found['edition']}. Arithmetic, not a certificate."]
    return "\n".join(lines)


def _columns(table: dict[str, Any]) -> list[str]:
    """A table as lines, each column as wide as its widest cell."""
    head = [f"{column['label']} {column['text']}".strip() for column in table["columns"]]
    rows = [head, *([cell["text"] for cell in row] for row in table["rows"])]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  " + "  ".join(cell.rjust(width) for cell, width in zip(row, widths, strict=True))
        for row in rows
    ]


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit(INTERRUPTED)
    except BrokenPipeError:
        # Whoever reads has seen enough (`| head`); Python would complain again at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(ANSWERED)
