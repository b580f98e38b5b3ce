"""The calculators at the command line: `list`, `show`, `run`, `batch`, `practice`, `paper`."""

from __future__ import annotations

import argparse
import binascii
import io
import json
import os
import subprocess
import sys
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from calcs.bridge import Bridge
from calcs.command_line.text import answered, shown
from calcs.command_line.words import read_words, request_of
from calcs.engine import batch
from calcs.engine.reply import public

BUNDLE = Path(__file__).with_name("bundle.json")
QUESTIONS = Path(__file__).with_name("practice.json")
ROOT = BUNDLE.parent.parent  # of a clone; of nothing that matters once installed
ANSWERED, REFUSED, INTERRUPTED = 0, 2, 130


def main(words: list[str] | None = None) -> int:
    """Run one command. Returns 0 with an answer, 2 when an input is refused."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A sign that the screen has no code for is no reason to lose the answer.
            stream.reconfigure(errors="backslashreplace")
    arguments = read_words(words, _today())
    if arguments.overlay:
        with TemporaryDirectory() as folder:
            made = Path(folder)
            is_made = _laid(made, arguments.overlay)
            paths = made / BUNDLE.name, made / QUESTIONS.name
            return _run(arguments, *paths) if is_made else REFUSED
    _refresh()
    if not BUNDLE.exists():
        print(
            f"{BUNDLE} is not there: the calculators have no figures yet.\n"
            f"Fix: python3 build_tools/start.py check",
            file=sys.stderr,
        )
        return REFUSED
    return _run(arguments, BUNDLE, QUESTIONS)


def _run(arguments: argparse.Namespace, bundle: Path, questions: Path) -> int:
    """Run one command by the figures and questions of these files."""
    bridge = Bridge(bundle.read_text(encoding="utf-8"))
    if arguments.command == "batch":
        return _batch(bridge)
    if arguments.command in {"practice", "paper"}:
        return _practice(bridge, arguments, questions)
    request = request_of(arguments)
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


def _laid(folder: Path, overlays: list[str]) -> bool:
    """In a clone, have the build lay overlays over its figures and questions; whether it could."""
    if not (ROOT / "build_tools").is_dir():
        print("--overlay: only a clone of the handbook can lay one over it.", file=sys.stderr)
        return False
    named = [str(Path(each).resolve()) for each in overlays]
    command = [sys.executable, "-m", "build_tools.for_hosts.command_line", str(folder), *named]
    done = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, encoding="utf-8", check=False
    )
    print(done.stdout + done.stderr, end="", file=sys.stderr)
    return not done.returncode


def _today() -> str:
    return datetime.now().astimezone().date().isoformat()


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
        print(shown(reply["show"]))
    else:
        print(answered(reply["answer"]))
    return REFUSED if refused else ANSWERED


def _practice(bridge: Bridge, arguments: argparse.Namespace, questions: Path) -> int:
    """Print a question, what is said to an answer, or a paper."""
    # Late: whoever asks a calculator needs none of it.
    from calcs.practice import door  # noqa: PLC0415

    if not questions.exists():
        fix = "Fix: python3 build_tools/start.py build"
        print(f"{questions} is not there: no build has made it.\n{fix}", file=sys.stderr)
        return REFUSED
    door.load(questions.read_text(encoding="utf-8"))
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


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit(INTERRUPTED)
    except BrokenPipeError:
        # Whoever reads has seen enough (`| head`); Python would complain again at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(ANSWERED)
