"""Gives every page a Content-Security-Policy: nothing runs or loads but what the site brings."""

import base64
import hashlib
import re
from html.parser import HTMLParser
from pathlib import Path

from build_tools.remembered import Work

CHARSET = '<meta charset="utf-8">'
EDITION = re.compile(r'<meta name="hb-edition" content="([^"]+)">')
RUNNING = {"", "text/javascript", "module"}  # kinds of <script> that run; JSON does not
# Before these a page is cut. Most pieces stand on other pages or in the last build as well.
CUT = re.compile(r"(?=<(?:section|li|main|footer|fieldset)\b)")
Piece = tuple[list[str], list[tuple[int, str]], bool]  # scripts, lines and what is there, is whole


class UnsafePageError(Exception):
    """Pages hold what a strict policy forbids. The text lists every place."""


class _Inline(HTMLParser):
    """Finds what stands in a page and would run or style it from there."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=False)
        self.scripts: list[str] = []
        self.forbidden: list[tuple[int, str]] = []
        self.inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note a script, a style, a handler."""
        given = dict(attrs)
        if tag == "script" and "src" not in given:
            self.inside = (given.get("type") or "") in RUNNING
            self.scripts += [""] * self.inside
        if tag == "style":
            self._forbid(tag, "a style element")
        for name, value in attrs:
            if name == "style" or name.startswith("on"):
                self._forbid(tag, f"the attribute {name}")
            if (value or "").strip().lower().startswith("javascript:"):
                self._forbid(tag, f"a script in {name}")

    def handle_endtag(self, tag: str) -> None:
        """Leave a script."""
        self.inside = self.inside and tag != "script"

    def handle_data(self, data: str) -> None:
        """Gather a script's text as the browser hashes it."""
        if self.inside:
            self.scripts[-1] += data

    def _forbid(self, tag: str, what: str) -> None:
        line, _ = self.getpos()
        self.forbidden.append((line, f"<{tag}> has {what}"))

    def is_between_tags(self) -> bool:
        """Whether the text so far ends inside no script, comment or tag."""
        return not self.rawdata and not self.cdata_elem and not self.inside


def apply(site: Path, look: Work | None = None) -> None:
    """Put one policy on every page. It covers them all: a page may be shown inside another's.

    Args:
        site: Folder of the pages.
        look: `in_piece`, or the same with a memory.

    Raises:
        UnsafePageError: A page holds a style, a handler or a script in an address.
    """
    pages = sorted(site.rglob("*.html"))
    texts = {page: page.read_text(encoding="utf-8") for page in pages}
    found = {page: inline(_of_any_edition(text), look) for page, text in texts.items()}
    forbidden = [
        f"{page.relative_to(site).as_posix()}, {where}"
        for page, (_, places) in found.items()
        for where in places
    ]
    if forbidden:
        listed = "\n".join(f"  {each}" for each in forbidden)
        raise UnsafePageError(f"These would need an unsafe policy:\n{listed}\nFix: use a class.")
    meta = policy_meta({script for scripts, _ in found.values() for script in scripts})
    for page, text in texts.items():
        if CHARSET not in text:
            raise UnsafePageError(f"{page.name} has no {CHARSET}.\nFix: begin its head with it.")
        closed = text.replace(CHARSET, f"{CHARSET}\n{meta}", 1)
        page.write_text(closed, encoding="utf-8", newline="\n")


def _of_any_edition(text: str) -> str:
    """The page without the name of its edition: each edit changes that, and it holds no script."""
    named = EDITION.search(text)
    return text.replace(named[1], "") if named else text


def inline(text: str, look: Work | None = None) -> tuple[list[str], list[str]]:
    """Scripts that stand in a page, and the places of what no strict policy can allow.

    Args:
        text: The page.
        look: `in_piece`, or the same with a memory.
    """
    pieces = CUT.split(text)
    found: list[Piece] = [(look or in_piece)(piece) for piece in pieces]
    if not all(is_whole for _, _, is_whole in found):  # what looked like a tag was none
        pieces, found = [text], [in_piece(text)]
    scripts, forbidden, lines = list[str](), list[str](), 0
    for piece, (own, places, _) in zip(pieces, found, strict=True):
        scripts += own
        forbidden += [f"line {lines + line}: {what}" for line, what in places]
        lines += piece.count("\n")
    return scripts, forbidden


def in_piece(text: str) -> Piece:
    """The same of a piece of a page, and whether the piece can be read without the next."""
    reader = _Inline()
    reader.feed(text)
    is_whole = reader.is_between_tags()
    reader.close()
    return reader.scripts, reader.forbidden, is_whole


def policy(scripts: set[str]) -> str:
    """The policy that lets these inline scripts run and nothing else that is not a file of ours."""
    hashes = " ".join(sorted(f"'{digest(script)}'" for script in scripts))
    rules = {
        "default-src": "'none'",
        "script-src": f"'self' 'wasm-unsafe-eval' {hashes}".strip(),
        "style-src": "'self'",
        "img-src": "'self' data:",
        "font-src": "'self'",
        "connect-src": "'self'",
        "worker-src": "'self'",
        "manifest-src": "'self'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    return "; ".join(f"{name} {value}" for name, value in rules.items())


def policy_meta(scripts: set[str]) -> str:
    """The policy as the element that carries it."""
    return f'<meta http-equiv="Content-Security-Policy" content="{policy(scripts)}">'


def for_folder(page: str) -> str:
    """A page with the policy that a folder needs: its worker is made from text, at a blob address.

    Raises:
        UnsafePageError: The page has no policy to change.
    """
    hosted, changed = "worker-src 'self'", "worker-src blob:"
    if page.count(hosted) != 1:
        raise UnsafePageError(f"A page lacks {hosted} in its policy.\nFix: close it first.")
    return page.replace(hosted, changed)


def digest(script: str) -> str:
    """Hash of a script as a policy names it."""
    return "sha256-" + base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
