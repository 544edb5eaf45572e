"""What is printed loads what the program hands over, and nothing else: no host is asked, no file beside the program is
read."""

import sys
from collections.abc import Iterator

import pytest

from reportgen.pages.pdf import printed
from reportgen.pages.printing import LayoutError, Stylesheet, ToPrint

ADDRESSES = ["https://example.org/x.png", "//127.0.0.1:9/x.png", "file:///etc/hostname", "/etc/hostname"]
LOADED = {
    "picture": '<img src="{}" alt="x">',
    "picture of a set": '<img srcset="{} 1x" src="{}" alt="x">',
    "object": '<object data="{}"></object>',
    "embedded": '<embed src="{}">',
    "style": '<link rel="stylesheet" href="{}">',
    "in a style": '<p style="background: url({})">x</p>',
    "in a block": "<style>p {{ background: url({}) }}</style><p>x</p>",
    "imported": '<style>@import "{}";</style>',
    "face": "<style>@font-face {{ font-family: X; src: url({}) }} p {{ font-family: X }}</style><p>x</p>",
    "attached": '<link rel="attachment" href="{}">',
    "attached by a link": '<a rel="attachment" href="{}">x</a>',
}
PASSED_OVER = {
    "drawn": '<svg xmlns="http://www.w3.org/2000/svg"><image href="{}" width="9" height="9"/></svg>',
    "drawn again": '<svg xmlns="http://www.w3.org/2000/svg"><use href="{}#x"/></svg>',
    "link": '<a href="{}">x</a>',
}


class Asked:
    """The hosts that this process asks, and whether it opens /etc/hostname."""

    def __init__(self) -> None:
        self.found: list[object] | None = None

    def hear(self, event: str, values: tuple[object, ...]) -> None:
        if self.found is not None and (
            event in ("socket.connect", "socket.getaddrinfo") or (event == "open" and values[0] == "/etc/hostname")
        ):
            self.found.append((event, values))


HEARD = Asked()
sys.addaudithook(HEARD.hear)


@pytest.fixture(autouse=True)
def _nothing_is_asked() -> Iterator[None]:
    HEARD.found = []
    yield
    found, HEARD.found = HEARD.found, None
    assert found == []


def to_print(body: str, style: str = "") -> ToPrint:
    text = f'<!doctype html><html lang="en"><title>x</title><body>{body}</body></html>'
    return ToPrint(text, Stylesheet("recap.css", style, "A4"))


@pytest.mark.parametrize("address", ADDRESSES)
@pytest.mark.parametrize("kind", LOADED)
def test_a_page_to_print_that_loads_something_is_refused(kind: str, address: str) -> None:
    with pytest.raises(LayoutError):
        printed(to_print(LOADED[kind].format(address, address)))


@pytest.mark.parametrize("address", ADDRESSES)
@pytest.mark.parametrize("kind", PASSED_OVER)
def test_what_is_no_part_of_a_printed_page_is_not_looked_up(kind: str, address: str) -> None:
    assert printed(to_print(PASSED_OVER[kind].format(address))).pages == 1


@pytest.mark.parametrize("rule", ["p {{ background: url({}) }}", "@font-face {{ font-family: X; src: url({}) }}"])
@pytest.mark.parametrize("address", ADDRESSES[::2])
def test_a_style_to_print_that_loads_something_is_refused(rule: str, address: str) -> None:
    with pytest.raises(LayoutError):
        printed(to_print("<p>x</p>", rule.format(address)))
