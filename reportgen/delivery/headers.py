"""Headers that name people: folded and encoded here, because the standard library's own way loses spaces in long names
that are not ASCII (Python 3.11)."""

from collections.abc import Sequence
from email.header import Header
from typing import Any

_LONGEST_AS_IT_IS = 60
_LINE = 72


class Folded(str):
    """A header's value that is on its way as it stands; the policies of the `email` package leave it alone."""

    name: str
    defects = ()

    def __new__(cls, name: str, value: str) -> "Folded":
        made = super().__new__(cls, value)
        made.name = name
        return made

    def fold(self, *, policy: Any) -> str:
        """The whole header, ready to be written."""
        return f"{self.name}: {policy.linesep.join(self.split(chr(10)))}{policy.linesep}"


def text_header(name: str, text: str) -> Folded:
    """A header of one line of text, such as Subject."""
    if text.isascii() and len(text) <= _LONGEST_AS_IT_IS:
        return Folded(name, text)
    return Folded(name, _encoded(text, len(name) + 2))


def people_header(name: str, people: Sequence[tuple[str, str]]) -> Folded:
    """A header of names and addresses, each on a line of its own."""
    return Folded(name, ",\n ".join(_person(who, address, len(name) + 2) for who, address in people))


def _person(who: str, address: str, indent: int) -> str:
    if who.isascii() and len(who) <= _LONGEST_AS_IT_IS:
        quoted = who.replace("\\", "\\\\").replace('"', '\\"')
        return f'"{quoted}" <{address}>'
    return f"{_encoded(who, indent)}\n <{address}>"


def _encoded(text: str, indent: int) -> str:
    """`text` as encoded words (RFC 2047), each on a line."""
    return Header(text, "utf-8", maxlinelen=_LINE, header_name="x" * (indent - 2)).encode(linesep="\n")
