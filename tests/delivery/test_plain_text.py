"""Plain text at 72 columns."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.delivery.plain_text import COLUMNS, flowed, wrapped


def test_the_lines_of_a_paragraph_flow_together() -> None:
    assert flowed("One line\nand its next.\n\nA second\nparagraph.") == "One line and its next.\n\nA second paragraph."


def test_items_headings_and_hard_breaks_keep_their_lines() -> None:
    markdown = "## Two things\n- first\n  goes on\n- second\n\nOne  \ntwo\\\nthree"
    assert flowed(markdown) == "Two things\n- first goes on\n- second\n\nOne\ntwo\nthree"


@pytest.mark.parametrize(
    ("markdown", "plain"),
    [
        ("**Keep** this, *slowly*, and ***never*** more", "Keep this, slowly, and never more"),
        ("**Keep\nthis**", "Keep this"),
        ("_Keep_ the __tee__ low", "Keep the tee low"),
        ("3 * 4 * 5 is 60, and snake_case_stays", "3 * 4 * 5 is 60, and snake_case_stays"),
        ("* first\n* *second*", "- first\n- second"),
        ("See [your page](https://example.org/a_b_c) and ![the top](top.png)",
         "See your page (https://example.org/a_b_c) and the top"),
        ("Write `comfort:` and 5\\*", "Write comfort: and 5*"),
    ],
)  # fmt: skip
def test_marks_of_emphasis_links_and_code_are_read_and_not_printed(markdown: str, plain: str) -> None:
    assert flowed(markdown) == plain


def test_an_item_hangs_under_its_first_word() -> None:
    first, second = wrapped("- " + "word " * 20).splitlines()
    assert first.startswith("- word")
    assert second.startswith("  word")


def test_the_address_of_a_page_is_not_broken() -> None:
    address = "https://lessons.example.org/s/" + "a" * 60 + "/index.html"
    assert address in wrapped(f"See {address}").splitlines()


def test_what_a_terminal_obeys_is_taken_out() -> None:
    assert wrapped("a\x1b[31mred\x9b0m\x07\n") == "a[31mred0m\n"


@given(st.lists(st.text("abc -", max_size=40), max_size=40).map(" ".join))
def test_no_line_is_longer_than_the_columns_unless_one_word_is(text: str) -> None:
    assert all(len(line) <= COLUMNS or " " not in line.strip() for line in wrapped(text).splitlines())


@given(st.text("abc \n", max_size=300))
def test_no_word_is_lost(text: str) -> None:
    assert wrapped(text).split() == text.split()
