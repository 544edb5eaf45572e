"""The pages of the live desk."""

from collections.abc import Mapping, Sequence
from typing import Any, get_args

from reportgen.pages.theme import shipped_templates
from reportgen.records.words import CHECKPOINTS, View
from reportgen.saying.wording import mid_sentence, moment_name, view_name


def desk_home(due: Sequence[Any], troubles: Sequence[Any], base: str, nonce: str) -> bytes:
    """Who is due, and the lessons that are being written."""
    values = {"due": due, "troubles": troubles, "base": base, "nonce": nonce}
    return shipped_templates().get_template("desk-home.html").render(**values).encode()


def lesson_page(written: Any, version: str, base: str, nonce: str) -> bytes:
    """A lesson to write, with the student's page beside it."""
    values = {"written": written, "version": version, "base": base, "nonce": nonce}
    values |= _shown_in_pictures()
    return shipped_templates().get_template("desk-lesson.html").render(**values).encode()


def marks_page(given: Mapping[str, Any], points: Mapping[str, str], base: str, nonce: str) -> bytes:
    """The pictures of a lesson, one at a time, with their marks to set; `points` is how each is called."""
    values = {"given": given, "points": points, "base": base, "nonce": nonce, **_shown_in_pictures()}
    return shipped_templates().get_template("desk-marks.html").render(**values).encode()


def second_looks_page(rounds: Sequence[Any], figures: Sequence[str], says: str | None, base: str, nonce: str) -> bytes:
    """What was marked a second time, and what that tells of marks; or, in `says`, why it tells nothing."""
    values = {"rounds": rounds, "figures": figures, "says": says, "base": base, "nonce": nonce}
    return shipped_templates().get_template("desk-again.html").render(**values).encode()


def _shown_in_pictures() -> dict[str, Mapping[str, str]]:
    """How the views and the moments of pictures are called."""
    return {
        "views": {view: view_name(view) for view in get_args(View)},
        "checkpoints": {checkpoint: mid_sentence(moment_name(checkpoint)) for checkpoint in CHECKPOINTS},
    }
