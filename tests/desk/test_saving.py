"""What is typed next is never taken for somebody else's change, whatever was typed before."""

from pathlib import Path

import pytest

from reportgen.desk.saving import Change, save
from reportgen.sheets.tree import parse

SHEET = "student: mara-l\ndate: 2026-03-05\nclub: 7-iron  # a remark\n"


@pytest.mark.parametrize(
    "typed",
    [
        "Well done. \n\nNext: hips", "ends in blanks  ", "\n\nbegins with empty lines", "  begins with blanks",
        "  begins with blanks\nin its first line", "a\ttab\nand another\t", "# no remark", "key: value", "- no item",
        "---\nno end", "“quotes” and 'others' and \"these\"", "yes", "17:00", "1.50", "☃ 🏌️ é",
        "a\u2028b\nc", "a\u0085b\nc", "a\u0085b", "a\rb\nc",
        "one\n\n\n\nfive", "%", "{", "[", "&a", "*a", "!a", "@a", "`a", "|", ">", "a \\ b", "\ufeffmark",
    ],
)  # fmt: skip
def test_the_next_sign_is_saved_too(typed: str, tmp_path: Path) -> None:
    sheet = tmp_path / "2026-03-05.yaml"
    sheet.write_text(SHEET, encoding="utf-8")
    save(sheet, Change(("notes",), None, typed))
    save(sheet, Change(("notes",), typed, typed + " and on"))
    text = sheet.read_text(encoding="utf-8")
    assert text.startswith(SHEET)
    assert " ".join(str(parse(text, "sheet").value(("notes",))).split()) == " ".join(f"{typed} and on".split())
