"""Markdown that people write -> HTML that is safe to show: no raw HTML, links to web, mail or within the site."""

import re
from functools import cache

from markdown_it import MarkdownIt
from markupsafe import Markup

from reportgen.languages.speaking import language_now
from reportgen.languages.typography import quotes_of

_OUTWARD = re.compile(r"^(?:https?|mailto):", re.IGNORECASE)
_NOT_RELATIVE = re.compile(r"^[^/?#]*:|^[/\\]")
"""A colon before the first slash, also in what is no scheme (RFC 3986, 4.2), or a place on another host."""


def is_safe_link(url: str) -> bool:
    """Whether a link leads to http, https, mailto or a relative place."""
    plain = "".join(sign for sign in url.strip() if sign.isprintable() and not sign.isspace())
    return bool(_OUTWARD.match(plain)) or not _NOT_RELATIVE.match(plain)


@cache
def _markdown(language: str) -> MarkdownIt:
    double, single = quotes_of(language)
    options = {"html": False, "typographer": True, "quotes": [*double, *single]}
    markdown = MarkdownIt("commonmark", options).enable(["replacements", "smartquotes"])
    markdown.validateLink = is_safe_link  # type: ignore[method-assign]
    return markdown.disable("image")


def prose(text: str, heading: int = 3) -> Markup:
    """The HTML of a Markdown text; its headings begin at level `heading`, so that a page keeps its one h1."""
    markdown = _markdown(language_now().code)
    tokens = markdown.parse(text)
    for token in tokens:
        if token.type in ("heading_open", "heading_close"):
            token.tag = f"h{min(int(token.tag[1]) + heading - 1, 6)}"
    return Markup(markdown.renderer.render(tokens, markdown.options, {}))  # noqa: S704  escaped by the renderer
