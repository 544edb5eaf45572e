"""What browsers are told of a file does not depend on what the system believes."""

import mimetypes

import pytest

from reportgen.pages.media import media_type


@pytest.fixture
def odd_system(monkeypatch: pytest.MonkeyPatch) -> None:
    """A system on which a program has written that scripts and styles are plain text."""
    mimetypes.init()
    database = mimetypes._db  # type: ignore[attr-defined]
    monkeypatch.setitem(database.types_map[True], ".js", "text/plain")
    monkeypatch.setitem(database.types_map[True], ".css", "text/plain")
    assert mimetypes.guess_type("library.js")[0] == "text/plain"


@pytest.mark.usefixtures("odd_system")
@pytest.mark.parametrize(
    ("name", "kind"),
    [("library.js", "text/javascript"), ("style.css", "text/css"), ("serif.woff2", "font/woff2"),
     ("week.ics", "text/calendar"), ("recap.pdf", "application/pdf"), ("swing.MP4", "video/mp4"), ("x.strange", None)],
)  # fmt: skip
def test_the_kind_of_a_file_is_told_by_its_ending(name: str, kind: str | None) -> None:
    assert media_type(name) == kind
