"""What English says in one way and another language does not: the first of a month, one person, what a source says."""

import gettext
import io
import re
from datetime import date
from pathlib import Path

import pytest

from reportgen.languages.catalogues import Language, compiled, language_of
from reportgen.languages.speaking import speaking
from reportgen.saying.readers import Reader, library_for
from reportgen.saying.wording import apart, day, full_day, short_day, stage_name
from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped

ROOT = Path(__file__).parents[2]
LIBRARY = load_library(shipped("content"), ROOT / "no-academy")[0]
FRENCH = language_of("fr", shipped("content") / "languages")


def german(tmp_path: Path, *messages: tuple[str | None, str, str]) -> Language:
    """German with these messages (context, English, German) and no others."""
    entries = [
        (f'msgctxt "{context}"\n' if context else "") + f'msgid "{english}"\nmsgstr "{own}"\n'
        for context, english, own in messages
    ]
    file = tmp_path / "de.po"
    head = (
        'msgid ""\nmsgstr "Content-Type: text/plain; charset=utf-8\\nPlural-Forms: nplurals=2; plural=(n != 1);\\n"\n'
    )
    file.write_text("\n".join([head, *entries]), encoding="utf-8")
    return Language("de", "de", gettext.GNUTranslations(io.BytesIO(compiled(file, "de"))))


@pytest.mark.parametrize(
    ("of", "written"),
    [
        (date(2026, 10, 1), ["1er octobre", "1er oct.", "1er octobre 2026"]),
        (date(2026, 10, 11), ["11 octobre", "11 oct.", "11 octobre 2026"]),
    ],
)
def test_the_first_of_a_month_is_premier_in_french(of: date, written: list[str]) -> None:
    with speaking(FRENCH):
        assert [day(of), short_day(of), full_day(of)] == written


def test_one_person_is_not_labelled_with_the_word_for_a_group(tmp_path: Path) -> None:
    words = german(tmp_path, (None, "senior", "Seniorinnen und Senioren"), ("one person", "senior", "60 und älter"))
    with speaking(words):
        assert stage_name("senior") == "60 und älter"


def test_the_plain_words_of_a_source_are_translated_and_a_citation_is_not(tmp_path: Path) -> None:
    language = german(tmp_path, (None, "common practice, no source", "üblich, ohne Quelle"))
    theirs = library_for(Reader(language), LIBRARY)
    assert {drill.source for drill in theirs.drills.values()} == {"üblich, ohne Quelle"}
    bands = [band.source for bands in theirs.bands.values() for band in bands]
    assert "üblich, ohne Quelle; the adult span, made wider" in bands
    cited = [rule for rule in LIBRARY.rules.values() if "et al" in rule.source]
    assert cited
    assert all(theirs.rules[rule.id].source == rule.source for rule in cited)


def test_titles_of_drills_are_in_the_readers_language(tmp_path: Path) -> None:
    language = german(tmp_path, (None, "Pendulum swings", "Pendelschwünge"))
    assert library_for(Reader(language), LIBRARY).drills["pendulum-swings"].title == "Pendelschwünge"


def test_a_semicolon_has_its_space_in_french() -> None:
    with speaking(FRENCH):
        assert re.fullmatch("a[\u00a0\u202f]; b", apart(["a", "b"]))


@pytest.mark.parametrize("template", ["mail.txt", "mail.html"])
def test_what_stands_between_two_values_of_a_mail_comes_from_a_message(template: str) -> None:
    text = (ROOT / "themes" / "letter" / template).read_text(encoding="utf-8")
    assert re.findall(r"(?:\}\}|%\})\)?[:;!?] *(?:<[^>]*>)?\{[{%].*", text) == []
