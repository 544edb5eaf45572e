"""How a mark came about is part of a sheet; older sheets, whose marks are pairs alone, read on."""

import pytest

from reportgen.records.lesson import Lesson
from reportgen.records.stills import Still
from reportgen.sheets.reading import sheet_of

HEAD = (
    "student: mara-l\ndate: 2026-12-02\nclub: 7-iron\nstills:\n"
    "  - {file: a.png, view: face-on, checkpoint: top, marks: "
)


def still(marks: str) -> Still:
    sheet, problems = sheet_of(f"{HEAD}{marks}}}\n", "sheet", Lesson)
    assert not problems
    assert sheet is not None
    return sheet.record.stills[0]


@pytest.mark.parametrize(
    ("written", "by"),
    [
        ("[1, 2]", None),
        ("{at: [1, 2]}", None),
        ("{at: [1, 2], by: hand}", "hand"),
        ("{at: [1, 2], by: confirmed}", "confirmed"),
    ],
)
def test_every_form_is_the_same_place(written: str, by: str | None) -> None:
    read = still(f"{{neck: {written}}}")
    assert read.marks == {"neck": (1.0, 2.0)}
    assert read.placed["neck"].by == by


@pytest.mark.parametrize(
    ("written", "wrong", "at"),
    [
        ("[1, x]", "stills, item 1, marks, neck: item 2 is not a number", "[1, x"),
        ("[1]", "stills, item 1, marks, neck: item 2 is missing", "[1]"),
        ("{at: [1, x]}", "stills, item 1, marks, neck, at: item 2 is not a number", "x]"),
        ("{at: [1, 2], by: nobody}", "stills, item 1, marks, neck: by is not one of the words for it", "nobody"),
        ("{by: hand}", "stills, item 1, marks, neck: at is missing", "{by"),
    ],
)
def test_a_slip_is_told_at_its_place(written: str, wrong: str, at: str) -> None:
    text = f"{HEAD}{{neck: {written}}}}}\n"
    _, (problem,) = sheet_of(text, "sheet", Lesson)
    assert problem.wrong.startswith(wrong)
    assert problem.line == 5
    assert text.splitlines()[4][problem.column - 1 :].startswith(at.removeprefix("[1, ") if "x" in written else at)
