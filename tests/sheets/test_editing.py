"""One value of a sheet is changed from the desk: the rest stays as its writer left it."""

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.sheets.editing import UnreadableSheetError, changed
from reportgen.sheets.tree import parse
from tests.publishing.small import DEMO

SHEET = """\
# the first line of an editor
student: mara-l
date: 2026-12-02
draft: true  # take this line out
club: 7-iron
focus:
readings:
  # last time's
  - {metric: tempo-ratio, value: , unit: '', how: by-eye}
  - {metric: trail-hip-load, trials: [1.50, 2.0], unit: "cm", how: by-eye}
drills:
- pendulum-swings
-   feet-together   # odd, and hers
comfort:
  # - {site: low-back, score: 0, when: after}
next_lesson: {date: 2026-12-09, time: "17:00"}
# below: the letter
notes: |
  Hello *you*

  See you.
"""


def differing(before: str, after: str) -> tuple[list[str], list[str]]:
    """The lines that only one of them has."""
    old, new = before.splitlines(), after.splitlines()
    return [line for line in old if line not in new], [line for line in new if line not in old]


def read(text: str) -> Any:
    tree = parse(text, "sheet.yaml")
    assert not tree.problems
    return tree.data


@pytest.mark.parametrize(
    ("loc", "value", "gone", "come"),
    [
        (("club",), "8-iron", ["club: 7-iron"], ["club: 8-iron"]),
        (("focus",), "say: it # now", ["focus:"], ['focus: "say: it # now"']),
        (("draft",), None, ["draft: true  # take this line out"], []),
        (
            ("readings", 0, "value"), 3.1,
            ["  - {metric: tempo-ratio, value: , unit: '', how: by-eye}"],
            ["  - {metric: tempo-ratio, value: 3.1, unit: '', how: by-eye}"],
        ),
        (("comfort", 0), {"site": "neck", "score": 2, "when": "after"}, [],
         ["  - {site: neck, score: 2, when: after}"]),
        (("next_lesson", "time"), "18:30", ['next_lesson: {date: 2026-12-09, time: "17:00"}'],
         ['next_lesson: {date: 2026-12-09, time: "18:30"}']),
        (("next_lesson",), None, ['next_lesson: {date: 2026-12-09, time: "17:00"}'], []),
        (("follow",), ["tempo-ratio", "lead-hip-rise"], [], ["follow: [tempo-ratio, lead-hip-rise]"]),
        (("cleared", "by"), "Dr Ines Abarca", [], ["cleared:", "  by: Dr Ines Abarca"]),
    ],
)  # fmt: skip
def test_nothing_but_the_value_changes(
    loc: tuple[str | int, ...], value: Any, gone: list[str], come: list[str]
) -> None:
    assert differing(SHEET, changed(SHEET, loc, value)) == (gone, come)


def test_a_letter_is_a_block_that_an_editor_shows_as_it_is() -> None:
    after = changed(SHEET, ("notes",), "One: two\n\n- three\n")
    assert after.endswith("# below: the letter\nnotes: |\n  One: two\n\n  - three\n")
    assert read(after)["notes"] == "One: two\n\n- three\n"


def test_the_last_item_of_a_list_takes_the_key_with_it() -> None:
    once = changed(SHEET, ("drills", 1), None)
    assert read(once)["drills"] == ["pendulum-swings"]
    assert "drills" not in read(changed(once, ("drills", 0), None))


def test_what_is_not_there_is_taken_out_without_a_change() -> None:
    assert changed(SHEET, ("cleared", "by"), None) == SHEET


@pytest.mark.parametrize("loc", [("readings", 4, "value"), ("drills", 7)])
def test_an_item_beyond_the_next_is_refused(loc: tuple[str | int, ...]) -> None:
    with pytest.raises(KeyError):
        changed(SHEET, loc, "3")


@pytest.mark.parametrize("text", ["readings: [", "- a\n- b\n", "just words", "a: b: c", "\tclub: 7-iron"])
def test_a_text_that_is_no_sheet_is_left_to_its_editor(text: str) -> None:
    with pytest.raises(UnreadableSheetError):
        changed(text, ("club",), "8-iron")


def test_the_first_value_of_an_empty_sheet() -> None:
    assert changed("", ("club",), "8-iron") == "club: 8-iron\n"


SIGNS = st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs"))
ANY = st.recursive(
    st.text(alphabet=SIGNS, max_size=20),
    lambda inner: (
        st.lists(inner, min_size=1, max_size=3)
        | st.dictionaries(st.from_regex(r"[a-z]{1,8}", fullmatch=True), inner, min_size=1, max_size=3)
    ),
    max_leaves=5,
)


@given(ANY)
def test_whatever_is_typed_is_read_as_it_was_typed(value: Any) -> None:
    after = changed(SHEET, ("focus",), value)
    assert read(after)["focus"] == value


@given(
    st.text(alphabet=st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")) | st.just("\n"), min_size=1)
)
def test_whatever_letter_is_typed_is_read_but_for_spaces_at_the_ends_of_lines(letter: str) -> None:
    wanted = re.sub(r"[^\S\n]+$", "", letter, flags=re.M).strip("\n")
    got = read(changed(SHEET, ("notes",), letter))["notes"]
    assert str(got).strip("\n") == wanted


@pytest.mark.parametrize("sheet", sorted(DEMO.glob("students/*/lessons/*.yaml")), ids=lambda path: path.stem)
def test_every_sheet_of_the_demo_keeps_all_other_lines(sheet: Any) -> None:
    text = sheet.read_text(encoding="utf-8")
    after = changed(text, ("club",), "6-iron")
    assert len(differing(text, after)[1]) <= 1
    assert {key: value for key, value in read(after).items() if key != "club"} == {
        key: value for key, value in read(text).items() if key != "club"
    }


def test_a_row_of_one_line_in_which_marks_begin_goes_on_over_lines() -> None:
    text = "stills:\n  - {file: a.jpg, view: face-on, checkpoint: top}\nclub: 7-iron\n"
    assert changed(text, ("stills", 0, "marks", "neck"), {"at": [1.5, 2], "by": "hand"}) == (
        "stills:\n  - file: a.jpg\n    view: face-on\n    checkpoint: top\n    marks:\n"
        "      neck: {at: [1.5, 2], by: hand}\nclub: 7-iron\n"
    )


def test_a_row_of_one_line_that_has_marks_stays_one() -> None:
    text = "stills:\n  - {file: a.jpg, marks: {neck: [1, 2]}}\n"
    assert changed(text, ("stills", 0, "marks", "neck"), [3, 4]) == text.replace("[1, 2]", "[3, 4]")
