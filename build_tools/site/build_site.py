"""The command `build`: everything that is read becomes one folder of files."""

import os
import shutil
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NoReturn

from build_tools.runtime import bundle, make_runtime, practice_pack
from build_tools.runtime.node_programs import AnswersDiffer, NodeStopped
from build_tools.runtime.wheels import WheelsMissing
from build_tools.setup.paths import ROOT
from build_tools.site import notices, offline
from build_tools.sources.host import settings
from build_tools.sources.load_project import load
from build_tools.sources.overlays import Overlay
from build_tools.sources.problems import ProblemsFound
from build_tools.sources.rule import check_all

FONT = "@fontsource-variable/atkinson-hyperlegible-next/files"
FONT_FILE = "atkinson-hyperlegible-next-latin-wght-normal.woff2"
OURS = "assets/handbook"  # a folder that holds this was made by an earlier build
SLOW_S = 1.0  # a step that takes longer says how long it took
TO_PUT_RIGHT = (
    ProblemsFound,
    AnswersDiffer,
    NodeStopped,
    notices.NoLicenceTextError,
    WheelsMissing,
)


def build(
    out: Path, kind: offline.Kind = "hosted", layers: Sequence[Overlay] = ()
) -> Mapping[str, Any]:
    """Make the whole site in the folder `out`, or end with every problem listed.

    Returns:
        The figures and words that it was made from.
    """
    with _fresh(out) as folder, ThreadPoolExecutor(1) as beside:
        packed, runtime = _make_pages(folder, layers, beside)
        _make_runtime(folder, packed, runtime)
        _close(folder, packed, kind, layers)
    return packed


def build_draft(out: Path, layers: Sequence[Overlay] = ()) -> None:
    """Make the pages anew and show them at once, as a draft.

    For `serve`: an author sees an edit in seconds. An edit of formulas, figures or calculators'
    words needs a new Python, which follows. Until then the calculators say that they are being
    made: none answers with what was there before. Whether the files keep the rules is for others
    to find out: `serve` has that checked beside.
    """
    with ThreadPoolExecutor(1) as beside:
        with _fresh(out) as folder:
            packed, runtime = _make_pages(folder, layers, beside, is_draft=True)
            is_whole = runtime.done()
            if is_whole:
                _make_runtime(folder, packed, runtime, is_draft=True)
            else:
                make_runtime.build_waiting(folder / "assets")
            _close(folder, packed, "draft", layers)
        if is_whole:
            return
        print("The pages are ready. The calculators follow.", flush=True)
        with _plainly():
            _make_runtime(out, packed, runtime, is_draft=True)
            offline.write(out, packed, "draft", host=settings(overlays=layers))


@contextmanager
def _fresh(out: Path) -> Iterator[Path]:
    """An empty folder that becomes `out` in one move, when all went well."""
    _refuse_strangers_folder(out)
    os.environ.setdefault("SOURCE_DATE_EPOCH", _today())
    out.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=out.parent, prefix=f".{out.name}-") as scratch:
        folder = Path(scratch) / "site"
        with _plainly():
            yield folder
        _put(folder, out, Path(scratch) / "before")


@contextmanager
def _plainly() -> Iterator[None]:
    """Tell what the person at the keyboard can put right in words, without a traceback."""
    try:
        yield
    except TO_PUT_RIGHT as problem:
        _stop(str(problem))


def _make_pages(
    folder: Path, layers: Sequence[Overlay], beside: Executor, *, is_draft: bool = False
) -> tuple[Mapping[str, Any], "Future[Path]"]:
    """Make the pages, and begin to make the runtime beside them.

    Returns:
        The figures and words that they are made from; the runtime.
    """
    with _step("Making the pages" if is_draft else "Checking data and words, making the pages"):
        gathered, make, bind = _makers(layers)
        project, page_context = gathered(is_checked=not is_draft, layers=layers)
        runtime = make_runtime.begin(page_context.bundle, beside, is_draft=is_draft)
        made = make(project, page_context)
        bind(made, folder, host=settings(overlays=layers))
        if not layers:  # the calculators' command line answers by the handbook's own figures
            practice_pack.write_made(made.questions, bundle.write_made(made.bundle))
        return made.bundle, runtime


def _makers(layers: Sequence[Overlay]) -> tuple[Callable[..., Any], ...]:
    """What gathers, makes and binds the pages.

    Raises:
        ProblemsFound: The formulas, which the pages ask, can't be imported.
    """
    try:
        from build_tools.pages.handbook import make  # noqa: PLC0415  it imports calcs
        from build_tools.pages.load_handbook import gathered  # noqa: PLC0415  it does too
        from build_tools.site.mkdocs_binding import bind  # noqa: PLC0415  and so does it
    except Exception:
        if problems := check_all(load(layers=layers)):
            raise ProblemsFound(problems) from None
        raise
    return gathered, make, bind


def _make_runtime(
    folder: Path, packed: Mapping[str, Any], runtime: "Future[Path]", *, is_draft: bool = False
) -> None:
    with _step("Making the calculators' runtime"):
        runtime.result()  # `build` takes what was made
        make_runtime.build(folder / "assets", packed, is_draft=is_draft)


def _close(
    folder: Path, packed: Mapping[str, Any], kind: offline.Kind, layers: Sequence[Overlay]
) -> None:
    with _step("Closing the site to other hosts"):
        _add_font(folder / "assets" / "fonts")
        notices.write(folder)
        offline.write(folder, packed, kind, host=settings(overlays=layers))


def _add_font(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    packages = ROOT / "build_tools" / "web" / "node_modules"
    shutil.copyfile(packages / FONT / FONT_FILE, folder / "text.woff2")


def _put(site: Path, out: Path, before: Path) -> None:
    """Change the old folder for the new one in one move, so that no reader meets half of each."""
    _let_all_read(site)
    if out.exists():
        out.rename(before)
    site.rename(out)


def _let_all_read(site: Path) -> None:
    """A web server runs as somebody else, who must be able to read what a careful builder made."""
    for path in (site, *site.rglob("*")):
        path.chmod(0o755 if path.is_dir() else 0o644)


def _refuse_strangers_folder(out: Path) -> None:
    """A build replaces its folder. One that holds something else is left alone."""
    if out.exists() and any(out.iterdir()) and not (out / OURS).is_dir():
        _stop(
            f"The folder {out} holds files that no build made.\n"
            "Fix: name a new or an empty folder with --out."
        )


def _today() -> str:
    """The start of this day, so that two builds on one day are the same to the byte."""
    now = datetime.now(UTC)
    return str(int(datetime(now.year, now.month, now.day, tzinfo=UTC).timestamp()))


@contextmanager
def _step(label: str) -> Iterator[None]:
    """Say what is being done, and how long it took where it took long."""
    print(f"{label} …", flush=True)
    start = time.monotonic()
    yield
    taken = time.monotonic() - start
    if taken > SLOW_S:
        print(f"    done in {taken:.1f} s", flush=True)


def _stop(text: str) -> NoReturn:
    """End with a message, plainly."""
    raise SystemExit(text)
