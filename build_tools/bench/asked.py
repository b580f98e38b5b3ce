"""What the benchmark asks: every row of it, its words, its threshold and the reason of that.

Each figure is a ratio: what was measured, over something measured beside it in the same run. On a
machine that others keep busy both take longer, and the ratio stays. What is promised to a reader
in seconds or megabytes is told with it, and is not judged.
"""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Row:
    """What is asked of one kind of figure.

    Args:
        name: What was measured.
        against: What it was measured against, beside it.
        asked: The ratio that is asked.
        because: Why it is this one.
        promised: What a reader or an author is promised in seconds or megabytes, if anything.
        better: Whether a larger or a smaller ratio is better.
    """

    name: str
    against: str
    asked: float
    because: str
    promised: str = ""
    better: Literal["more", "less"] = "less"


ROWS = {
    "first": Row(
        "First live answer",
        "the ordinary start of the same runtime",
        6.0,
        "the price of our own snapshot is paid for only if it is several times sooner",
        better="more",
    ),
    "ready": Row(
        "Calculator ready after its page was asked for",
        "a worker alone, on a page that does nothing else",
        3.0,
        "the page is read, drawn and brought to life while the worker starts, not before it",
    ),
    "full set": Row(
        "First live answer, every calculator",
        "a handbook of the first four alone",
        1.25,
        "a calculator that is not used costs its part of the snapshot, and no more",
    ),
    "offline": Row(
        "First live answer, offline",
        "the same with a server",
        1.25,
        "what is kept on the device is read as fast as what the browser keeps",
    ),
    "folder": Row(
        "First live answer, folder edition",
        "the same page from a server",
        2.5,
        "its files come as text in scripts, which takes longer to read",
        "2.5 s",
    ),
    "worked out": Row(
        "Worked out by the worker",
        "the same request in CPython",
        5.0,
        "the browser's Python is about three times as slow: more of it is our own doing",
        "50 ms where the sum searches",
    ),
    "answered": Row(
        "Change to answer in the page",
        "the same worker asked by itself for its first part, and a figure of that page laid out",
        3.0,
        "the page reads the form and writes a whole answer: a few times the least that there is",
        "16 ms for 95 of 100 changes; 50 ms where the sum searches",
    ),
    "painted": Row(
        "Answer painted after a key",
        "a bare key on a page without calculator, with the same two after it",
        3.0,
        "beyond these there is only the page's own part and the frame that it waits for",
        "one frame, 16 ms, after the key's own; 50 ms where the sum searches",
    ),
    "outcome": Row(
        "Key in a step to its outcome laid out",
        "the same request asked by itself, and a figure of the outcome laid out",
        3.0,
        "the page keeps what was typed and shows a line: a few times the least that there is",
        "16 ms for 95 of 100 keys",
    ),
    "visit": Row(
        "Visit of 200 readings and 3 appliances opens",
        "the same page with an empty visit",
        3.0,
        "a list of 200 readings is filled and none of them is looked for in all others",
        "300 ms",
    ),
    "next question": Row(
        "Next question of practice, asked for and laid out",
        "the worker's own time for it, and its words laid out",
        3.0,
        "it is drawn while the one before is read: to show it takes a few times the least there is",
        "50 ms",
    ),
    "paper": Row(
        "Paper of 40 questions, asked for and laid out",
        "the same request in CPython",
        5.0,
        "the browser's Python is about three times as slow, and the page shows one question",
        "1 s",
    ),
    "checked": Row(
        "Check of an overlay after an edit: its work",
        "MkDocs with its stock theme over as many plain pages",
        1.5,
        "only what the edit touches is tried again: a host waits no longer than for a plain build",
        "3 s",
    ),
    "size": Row(
        "Whole edition, as transferred",
        "the bare runtime of the browser's Python",
        2.1,
        "pages, words and snapshot weigh little more than what must come anyway",
        "12 MB",
    ),
    "paint": Row(
        "Largest contentful paint",
        "the same words in the stock theme of MkDocs",
        1.5,
        "forms, figures and drawings may cost half as much again as plain words",
        "1.5 s on a processor four times as slow",
    ),
    "weight": Row(
        "Heaviest page",
        "the same words in the stock theme of MkDocs",
        6.0,
        "a form with its units, drawings and worked example stand beside the words",
        "250 kB",
    ),
    "kept": Row(
        "Kept whole, over a slow link",
        "the same files fetched one after the other",
        1.5,
        "keeping an edition is fetching it: what checks and stores it goes on meanwhile",
        "20 s over 10 Mbit/s",
    ),
    "told apart": Row(
        "What is wrong with a visit comes first",
        "the largest residual of the same visits",
        1.5,
        "weighing all that may be wrong is worth it if it names far more than a glance does",
        "95 of 100 strong faults and 82 of 100 mild ones that were flagged",
        better="more",
    ),
    "build": Row(
        "Full build, nothing kept: its work",
        "MkDocs with its stock theme over as many plain pages",
        25.0,
        "a Python is frozen, every example is worked out and every page is checked",
        "20 s",
    ),
    "again": Row(
        "A build after that: its work",
        "MkDocs with its stock theme over as many plain pages",
        12.0,
        "every page is filled in and checked anew; the frozen Python is kept",
    ),
    "edit": Row(
        "Edit shown by serve",
        "MkDocs with its stock theme over as many plain pages",
        3.0,
        "an author waits for an edit about as long as elsewhere for a plain build",
        "3 s; a formula 6 s",
    ),
}
