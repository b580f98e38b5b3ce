"""What hosts say on a page: added to the handbook's words, each under its host's name."""

from collections.abc import Iterable

from markupsafe import Markup

from build_tools.pages.content_node import ContentNode

BY_HOST = Markup('{} <span class="hb-host__name">{}</span>')
Said = tuple[str, ContentNode]  # the name of a host, and what it says


def words_on(node: ContentNode) -> list[Said]:
    """What each host says on a page, the lowest first."""
    said = node.page_context.hosts.words.get(node.path.removesuffix(".html"), ())
    return [(host, ContentNode.whole_of(each, node.page_context, node.path)) for host, each in said]


def with_added(texts: list[Markup], said: Iterable[Said], key: str) -> list[Markup]:
    """A list of the handbook's with what hosts add to it, each under its host's name."""
    added = [BY_HOST.format(words, host) for host, node in said for words in node[key].htmls()]
    return [*texts, *added]
