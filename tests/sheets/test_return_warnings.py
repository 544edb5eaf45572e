"""A step of a return that nothing comes of is told by `check`."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from reportgen.cli import main
from reportgen.pipeline import load
from reportgen.sheets.return_warnings import return_warnings
from tests.judging.academies import ID, write_academy

CLEARED = "cleared: {by: Dr Invented, on: 2026-03-10}"


def warned(root: Path, *sheets: str) -> list[str]:
    days = ("2026-03-05", "2026-03-12", "2026-03-19")
    return list(return_warnings(load(write_academy(root, dict(zip(days, sheets, strict=False))))))


def test_a_step_without_a_clearance_is_told_at_its_line(tmp_path: Path) -> None:
    assert warned(tmp_path, "", "return_step: woods") == [
        f"students/{ID}/lessons/2026-03-12.yaml:4:14: return_step counts for nothing: no sheet up to this "
        "one says that the student is cleared. Add cleared: {by: who, on: day} once a doctor or physiotherapist has "
        "said so, or take it out."
    ]


@pytest.mark.parametrize(
    "sheets", [("", f"{CLEARED}\nreturn_step: putts"), ("", CLEARED, "return_step: chips"), ("", CLEARED), ("",)]
)
def test_a_step_with_a_clearance_or_after_one_is_not(tmp_path: Path, sheets: tuple[str, ...]) -> None:
    assert warned(tmp_path, *sheets) == []


def test_check_warns_and_finds_no_problem(tmp_path: Path) -> None:
    write_academy(tmp_path, {"2026-03-05": "return_step: done"})
    done = CliRunner().invoke(main, ["check", str(tmp_path)])
    assert done.exit_code == 0
    assert "warning: " in done.output
    assert "return_step counts for nothing" in done.output
