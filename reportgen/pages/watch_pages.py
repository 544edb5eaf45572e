"""What stands around pages while their sheets are being written: the strip of problems, the script that reloads."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from reportgen.pages.theme import shipped_templates
from reportgen.sheets.problems import Problem


@dataclass(frozen=True)
class Trouble:
    """A problem, and the line of the sheet that it stands in where that can be read."""

    problem: Problem
    line: str | None


def watched_page(page: bytes, troubles: Sequence[Trouble], version: str, nonce: str, base: str) -> bytes:
    """A page as it is served below the address `base`: the strip on top, and the script that loads it again once
    `version` is an old one."""
    template = shipped_templates().get_template("watch-strip.html")
    strip = template.render(troubles=troubles, version=version, nonce=nonce, base=base, follows=False, kept=True)
    head, tag, rest = page.partition(b"<body>")
    return head + tag + strip.encode() + rest if tag else strip.encode() + page


def watch_page(
    students: Mapping[str, str], message: str | None, troubles: Sequence[Trouble], version: str, nonce: str, base: str
) -> bytes:
    """A page of the watch itself, below the address `base`: who there is to look at, or with `message` why there is no
    page yet.

    Without a message it goes on to the page of whoever is saved next.
    """
    values = {"troubles": troubles, "version": version, "nonce": nonce, "base": base, "kept": False}
    template = shipped_templates().get_template("watch.html")
    return template.render(students=students, message=message, follows=message is None, **values).encode()
