"""A new sheet asks about the places that were sore."""

import re
from datetime import date
from pathlib import Path

from reportgen.authoring.begin import begin_sheet
from reportgen.pipeline import load
from tests.judging.academies import ID, reading, sheet, write_academy

OPEN_HIPS = reading("pelvis-open-impact", 80, u=1)
MORNING = "comfort: [{site: low-back, score: 5, when: next-morning}]"


def begun(root: Path, *texts: str) -> str:
    days = ("2026-03-05", "2026-03-12")
    write_academy(root, {day: sheet(OPEN_HIPS, text) for day, text in zip(days, texts, strict=False)})
    return begin_sheet(load(root), ID, date(2026, 3, 19)).read_text(encoding="utf-8")


def test_what_is_held_is_asked_for_with_an_empty_score(tmp_path: Path) -> None:
    text = begun(tmp_path, MORNING, "")
    assert "  # ask how it feels now, 0 to 10; what was held stays held until a low score is written\n" in text
    assert "  - {site: low-back, score: , when: before}  # sore since 2026-03-05\n" in text


def test_nothing_is_asked_for_that_was_not_sore(tmp_path: Path) -> None:
    assert "  # - {site: low-back, score: 0, when: after}\n" in begun(tmp_path, "")


def test_a_low_score_ends_the_asking(tmp_path: Path) -> None:
    assert "score: ," not in begun(tmp_path, MORNING, "comfort: [{site: low-back, score: 0, when: before}]")


def test_a_sheet_that_is_called_ready_is_refused_until_the_score_is_filled_in(tmp_path: Path) -> None:
    begun(tmp_path, MORNING, "")
    written = tmp_path / "students" / ID / "lessons" / "2026-03-19.yaml"
    text = re.sub(r"(?m)^draft: true.*\n", "", written.read_text(encoding="utf-8"))
    written.write_text(text.replace("value: ,", "value: 70,"), encoding="utf-8")
    problems = [str(problem) for problem in load(tmp_path).problems]
    assert len(problems) == 1
    assert "comfort" in problems[0]
    assert "score" in problems[0]


def test_a_stop_is_asked_about_too(tmp_path: Path) -> None:
    assert "site: low-back, score: ," in begun(tmp_path, "comfort: [{site: low-back, score: 8, when: during}]")
