"""What a page says, as a reader would read it out: for goldens, without markup."""

from html.parser import HTMLParser

BLOCKS = {
    *("article", "caption", "dd", "details", "div", "dl", "dt", "figcaption", "figure", "footer"),
    *("form", "h1", "h2", "h3", "h4", "header", "label", "li", "nav", "ol", "p", "section"),
    *("summary", "table", "tbody", "td", "th", "thead", "tr", "ul"),
}
SILENT = {"svg", "template", "nav", "form", "noscript", "script", "style"}


class _Text(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.lines: list[str] = [""]
        self.silent: list[str] = []

    def handle_starttag(self, tag, attrs):
        # The list of headings repeats what the page says further down, and what is hidden waits
        # for a script.
        passed_over = {("data-hb-contents", None), ("hidden", None)} & {*attrs}
        if tag in SILENT or self.silent or passed_over:
            if tag not in {"input", "br", "img", "use", "path", "circle"}:
                self.silent.append(tag)
        elif tag in BLOCKS:
            self.lines.append("")

    def handle_endtag(self, tag):
        if self.silent:
            self.silent.pop()
        elif tag in BLOCKS:
            self.lines.append("")

    def handle_data(self, data):
        if not self.silent:
            self.lines[-1] += data


def text_of(html: str) -> str:
    """The words of a page, one line for each block that has some."""
    reader = _Text()
    reader.feed(html)
    reader.close()
    lines = (" ".join(line.split()) for line in reader.lines)
    return "\n".join(line for line in lines if line) + "\n"
