"""Straight apostrophes and quotation marks become those of the language, and what is no text stays as it is."""

import pytest

from reportgen.languages.catalogues import ENGLISH
from reportgen.languages.speaking import say, speaking
from reportgen.languages.typography import curled
from reportgen.pages.plain import plain
from reportgen.records.academy import Instructor


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("the ball's place", "the ball’s place"),
        ("your knees' height", "your knees’ height"),
        ('Say "wait" aloud.', "Say “wait” aloud."),
        ('("three")', "(“three”)"),
        ("the page 'Got back pain?' of the NHS", "the page ‘Got back pain?’ of the NHS"),
        ("'tis the player's choice", "’tis the player’s choice"),
        ('He said: "it\'s 7"', "He said: “it’s 7”"),
        ("the 1990's", "the 1990’s"),
    ],
)
def test_marks_are_those_of_a_book(typed: str, printed: str) -> None:
    assert curled(typed) == printed


@pytest.mark.parametrize(
    ("language", "printed"),
    [("en", "“wait”"), ("de", "„wait“"), ("fr", "«\u00a0wait\u00a0»"), ("de_AT", "„wait“"), ("nl", "“wait”")],
)
def test_marks_are_those_of_the_language(language: str, printed: str) -> None:
    assert curled('"wait"', language) == printed


@pytest.mark.parametrize(
    "kept",
    [
        '6\'2" tall, a stick of 48"',
        '`time: "17:30"`',
        '```\nunit: "1"\n```',
        '<a href="../drills.html">',
        '[Mara](https://example.org/ "her page")',
        "o'brien@example.org",
        "https://example.org/it's",
    ],
)
def test_feet_inches_code_tags_and_addresses_stay(kept: str) -> None:
    assert curled(kept) == kept


def test_what_is_curled_does_not_change_again() -> None:
    once = curled("\"It's the players' 'wait'\", 6'")
    assert curled(once) == once


def test_every_sentence_that_is_said_is_curled() -> None:
    with speaking(ENGLISH):
        assert say("The camera's distance is not on the sheet.") == "The camera’s distance is not on the sheet."


def test_what_people_type_is_curled_for_a_page() -> None:
    assert plain(Instructor(name="Ada O'Brien")).name == "Ada O’Brien"
