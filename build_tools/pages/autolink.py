"""Links set into the running words of a finished page: never into names, titles, links or input."""

import re
from collections.abc import Callable, Mapping

# Words in these are names, titles, links or input, and never explained where they stand.
HEADINGS = {"h1", "h2", "h3", "h4", "h5", "h6", "header"}
NAMES = {"b", "caption", "dt", "figcaption", "table", "th", "title"}
ELEMENTS = {"hb-calculator", "hb-stopwatch", "hb-timer"}
DOINGS = {"a", "button", "form", "label", "nav", "option", "select", "summary"}
NO_WORDS = {"script", "style", "svg", "template"}
# The box of a limit beside a reading, a name and a figure; a line that opens a list when touched.
BOX = 'class="hb-(?:limit"|short[" ])'
LEFT_ALONE = "|".join(sorted(HEADINGS | NAMES | DOINGS | ELEMENTS | NO_WORDS))
OPENING = re.compile(rf"<({LEFT_ALONE})(?=[\s>])[^>]*>|<([a-z]+)[^>]* {BOX}[^>]*>")
TAGS = re.compile(r"(<[^>]*>)")


def replaced(html: str, find: re.Pattern[str], link: Callable[[re.Match[str]], str]) -> str:
    """The page with what the pattern finds in its running words replaced.

    >>> replaced("<h2>Gas</h2><p>Gas, <b>gas</b></p>", re.compile("Gas"), lambda found: "Air")
    '<h2>Gas</h2><p>Air, <b>gas</b></p>'
    """
    done, at = list[str](), 0
    while opening := OPENING.search(html, at):
        end = _end_of(html, opening)
        done += [_in_words(html[at : opening.start()], find, link), html[opening.start() : end]]
        at = end
    return "".join([*done, _in_words(html[at:], find, link)])


def _in_words(html: str, find: re.Pattern[str], link: Callable[[re.Match[str]], str]) -> str:
    if not find.search(html):
        return html
    pieces = TAGS.split(html)
    pieces[::2] = [find.sub(link, words) for words in pieces[::2]]
    return "".join(pieces)


def _end_of(html: str, opening: re.Match[str]) -> int:
    """Where the part ends that is left alone from here."""
    tag, depth = opening[1] or opening[2], 1
    for found in re.compile(rf"<(/?){tag}(?=[\s>])[^>]*>").finditer(html, opening.end()):
        depth += -1 if found[1] else 1
        if not depth:
            return found.end()
    return len(html)


def procedures_linked(html: str, links: Mapping[str, str]) -> str:
    """The page with each procedure that a sentence names linked to it.

    Args:
        html: The body of a page.
        links: Stem of a procedure to its address from this page.

    >>> procedures_linked("<p>Follow the hot water procedure.</p>", {"hot_water": "hot.html"})
    '<p>Follow the <a href="hot.html">hot water procedure</a>.</p>'
    """
    names = {f"{stem.replace('_', ' ')} procedure": link for stem, link in links.items()}
    if not names:
        return html
    find = re.compile(rf"\b(?:{'|'.join(map(re.escape, names))})\b")
    return replaced(html, find, lambda found: f'<a href="{names[found[0]]}">{found[0]}</a>')
