"""The pages of the live desk."""

from collections.abc import Sequence
from typing import Any

from reportgen.pages.theme import shipped_templates
from reportgen.pages.watch_pages import Trouble


def desk_home(due: Sequence[Any], troubles: Sequence[Trouble], base: str, nonce: str) -> bytes:
    """Who is due, and the lessons that are being written."""
    values = {"due": due, "troubles": troubles, "base": base, "nonce": nonce}
    return shipped_templates().get_template("desk-home.html").render(**values).encode()


def lesson_page(written: Any, version: str, base: str, nonce: str) -> bytes:
    """A lesson to write, with the student's page beside it."""
    values = {"written": written, "version": version, "base": base, "nonce": nonce}
    return shipped_templates().get_template("desk-lesson.html").render(**values).encode()
