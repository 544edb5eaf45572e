"""How much of a letter stands open: whole sentences, as many as there is room for."""

import pytest

from reportgen.pages.letter_top import OpenLetter, cut

LONG = "Look at the two pictures. That is three months of work! Next we do *less*.\n\nThe ball starts on line now."


@pytest.mark.parametrize(
    ("room", "first"),
    [
        (4, ""),
        (5, "Look at the two pictures."),
        (11, "Look at the two pictures. That is three months of work!"),
        (16, "Look at the two pictures. That is three months of work! Next we do *less*."),
    ],
)
def test_a_long_letter_is_cut_after_a_sentence(room, first):
    found = cut(LONG, room)
    assert found.first == first
    assert (found.first + " " + found.rest).split() == LONG.split()


def test_a_short_letter_stands_whole():
    assert cut(LONG, 21) == OpenLetter(LONG, "")


@pytest.mark.parametrize("letter", ["- One. Two.\n- Three. Four.", "# One. Two words more", "> One. Two words more."])
def test_a_list_a_heading_and_a_quote_are_not_cut(letter):
    assert cut(letter, 2) == OpenLetter("", letter)


@pytest.mark.parametrize(
    "letter", ["You *said so. And so* it is now.", "See [it all. Now](https://x.example) and again."]
)
def test_emphasis_and_links_stay_whole(letter):
    assert cut(letter, 4) == OpenLetter("", letter)


def test_a_sentence_ends_where_the_next_begins_with_a_capital_or_a_quote():
    assert cut("It took approx. ten balls. “Well,” you said.", 5).first == "It took approx. ten balls."
