"""A catalogue of an academy's own that somebody sends: a translation fills the places of its message, and nothing of it
is markup, looks into what it is filled with, or takes more room than it is given."""

from pathlib import Path

import pytest

from reportgen.languages.translations import fault_of
from tests.publishing.small import PETRA, reportgen, small_academy

SOUND = [
    ("It was {value} on {day}.", "Am {day} waren es {value}."),
    ("100 %% of %(name)s", "%(name)s zu 100 %%"),
    ('<a href="%(page)s">All</a> of it', 'Davon <a href="%(page)s">alles</a>'),
    ("Write students/<id>/student.yaml", "Schreibe students/<id>/student.yaml"),
    ("keys of their own in { }", "eigene Schlüssel in { }"),
    ("less than 5 < 6", "weniger als 5 < 6"),
]
WRONG = [
    ("It was {value}.", "Es waren {value.__class__}."),
    ("It was {value}.", "Es waren {value!r}."),
    ("It was {value}.", "Es waren {value:>999999999}."),
    ("It was {value}.", "Es waren {value[secret]}."),
    ("It was {value}.", "Es waren {valeu}."),
    ("It was {value}.", "Es waren {value}{"),
    ("It was %(value)s.", "Es waren %(valeu)s."),
    ("It was %(value)s.", "Es waren %(value)999999999s."),
    ("Your pages", "Deine <script>alert(1)</script> Seiten"),
    ("Your pages", "Deine <IMG src=x onerror=alert(1) "),
    ("Your pages", 'Deine Seiten" onmouseover="alert(1)'),
    ('<a href="%(page)s">All</a>', '<a href="javascript:alert(1)">Alles</a>'),
]


@pytest.mark.parametrize(("message", "translated"), SOUND)
def test_a_sound_translation_has_no_fault(message: str, translated: str) -> None:
    assert fault_of((message,), translated) is None


@pytest.mark.parametrize(("message", "translated"), WRONG)
def test_a_translation_that_brings_something_of_its_own_has_one(message: str, translated: str) -> None:
    assert fault_of((message,), translated) is not None


@pytest.mark.parametrize(("message", "translated"), [
    ("Your pages", 'Deine Seiten\\" onmouseover=\\"alert(1)'),
    ("{low} to {high}", "{low.__class__} bis {high}"),
])  # fmt: skip
def test_a_catalogue_with_one_is_told_with_file_and_line(tmp_path: Path, message: str, translated: str) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    (academy / "languages").mkdir()
    text = (
        f'msgid ""\nmsgstr "Content-Type: text/plain; charset=utf-8\\n"\n\nmsgid "{message}"\nmsgstr "{translated}"\n'
    )
    (academy / "languages" / "it.po").write_text(text, encoding="utf-8")
    with (academy / "academy.yaml").open("a", encoding="utf-8") as sheet:
        sheet.write("\nlanguage: it\n")
    done = reportgen("publish", academy, "--to", tmp_path / "site")
    assert done.exit_code == 2
    assert "languages/it.po:4:1: the translation " in done.output
