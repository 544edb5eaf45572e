"""The guide tells the bounds that are in force."""

from reportgen.pages.guide_pages import guide_pages
from reportgen.pages.guide_texts import guide_texts
from reportgen.pipeline import load
from reportgen.records.bounds import (
    BLOCKS,
    DRILLS_GIVEN,
    LETTER,
    LINES,
    LONG_WORDS,
    MARKS,
    PICTURE_BYTES,
    PICTURE_MEGAPIXELS,
    PRACTICE_DAYS,
    READINGS,
    SHOT_TABLES,
    SHOTS,
    SPANS,
    STILLS,
    TABLE_LINES,
    TRIALS,
    WHOLE_MEGAPIXELS,
    WORD,
)
from reportgen.sheets.academy_folder import sound
from tests.publishing.small import DEMO, PETRA


def test_the_text_about_lessons_has_the_figures_of_the_program() -> None:
    text = next(page.text for page in guide_texts() if page.name == "lesson")
    assert LONG_WORDS == 3
    for told in (
        f"{READINGS} readings with {TRIALS} trials each, {STILLS} pictures, {DRILLS_GIVEN} drills",
        f"{PRACTICE_DAYS} days of practice",
        f"{LETTER:,} characters on {LINES} lines, with {BLOCKS} list items, and {MARKS} signs",
        f"A word has up to {WORD} characters; three longer ones",
        f"{PICTURE_MEGAPIXELS} million pixels, or a PNG of up to {WHOLE_MEGAPIXELS} million",
        f"{PICTURE_BYTES >> 20} MiB. A table has up to {TABLE_LINES:,} lines",
        f"of shots a sheet names up to {SHOT_TABLES} tables with up to {SHOTS:,} shots each",
        f"within {SPANS['angle'].high:g}°, lengths within {SPANS['length'].high:g} m",
        f"{SPANS['speed'].low:g} to {SPANS['speed'].high:g} m/s, times up to {SPANS['time'].high:g} s",
        f"ratios up to {SPANS['ratio'].high:g}, masses up to {SPANS['mass'].high:g} kg",
    ):
        assert told in text


def test_the_tables_of_fields_show_the_bounds() -> None:
    fields = guide_pages(sound(load(DEMO, PETRA)))["fields.html"].decode()
    for told in (
        "a list of up to 12: ",
        "a text, over several lines too, up to 20000 characters",
        "one line of text, up to 300 characters",
        "a number, from -100000, up to 100000",
        "a whole number, from 0, up to 10000000",
    ):
        assert told in fields
