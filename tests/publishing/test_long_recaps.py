"""A recap stays on two pages, whatever a sheet holds: it is set closer, then says what it leaves out; and where it
cannot be, that is a problem of one student."""

from pathlib import Path

import pytest

from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped
from tests.access.extremes import EIGHTEEN
from tests.publishing.small import BETTINA, PETRA, area_of, reportgen, sheets, small_academy
from tests.site.published import Page, pdf_text, plain

NOTE = ("Slowly, and with the eyes where the ball was. " * 7)[:299]
DRILLS = 12
LETTER = f"{'You did all of that with patience, and it shows in every single swing of the morning. ' * 2}\n\n" * 113


def _longest(language: str) -> str:
    """A sheet with as much as a sheet may hold, in words of that language."""
    library = load_library(shipped("content"), Path("no-academy"))[0]
    drills = sorted(name for name, drill in library.drills.items() if "full-swing" in drill.kinds)[:DRILLS]
    values = [
        f"  - {{metric: {metric}, value: {value.split()[0]}, unit: '{value.split()[1]}', how: sensor, u: 1.0}}"
        for metric, value in EIGHTEEN.items()
    ]
    lines = [f"focus: {NOTE}", "readings:", *values, "drills:"]
    lines += [f"  - {{drill: {drill}, dose: 3 x 10, note: {NOTE!r}}}" for drill in drills]
    lines += ["setup:"]
    lines += [
        f"  - {{what: {kind.id}, word: {kind.words[-1].id}, club: {club}, note: {NOTE!r}}}"
        for kind in library.setup.values()
        for club in ("driver", "7-iron", "sand-wedge", "putter")
    ]
    lines += ["comfort:"]
    lines += [f"  - {{site: {site}, score: 2, when: after}}" for site in ("low-back", "lead-wrist", "trail-elbow")]
    lines += [f'next_lesson: {{date: 2027-01-05, time: "17:30", place: {NOTE!r}}}']
    lines += ["notes: |", *(f"  {line}" for line in LETTER.splitlines())]
    return "\n".join(lines) + "\n"


def _give(academy: Path, student: str, sheet: str, language: str) -> None:
    last = sheets(academy, student)[-1]
    kept = [
        line
        for line in last.read_text(encoding="utf-8").splitlines()
        if line.startswith(("student:", "date:", "club:"))
    ]
    last.write_text("\n".join([*kept, sheet]), encoding="utf-8")
    with (academy / "students" / student / "student.yaml").open("a", encoding="utf-8") as file:
        file.write(f"language: {language}\ngoal: {{what: {NOTE!r}, by: 2027-09-30, seen_by: {NOTE!r}}}\n")


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_the_longest_lesson_has_a_recap_of_two_pages(tmp_path: Path, language: str) -> None:
    academy = small_academy(tmp_path / "academy", PETRA, lessons=1)
    _give(academy, PETRA, _longest(language), language)
    assert reportgen("check", academy).exit_code == 0
    published = reportgen("publish", academy, "--to", tmp_path / "site")
    assert published.exit_code == 0, published.stderr
    (recap,) = (tmp_path / "site").rglob("recap.pdf")
    assert pdf_text(recap).count("\f") == 2
    (lesson,) = (tmp_path / "site" / "upload" / "s").glob("*/20*/index.html")
    whole, told = Page(lesson).text, plain(pdf_text(recap))
    for caution in Page(lesson).all("div", "caution"):
        words = plain("".join(caution.itertext()))
        assert words[:60] in told, words
    assert NOTE[:80] in whole


def test_a_recap_that_cannot_be_set_on_two_pages_is_a_problem_of_one_student(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", PETRA, BETTINA, lessons=1)
    (academy / "safety").mkdir()
    rules = "\n".join(
        f"- {{id: own-{n}, level: note, when: {{watch: [low-back]}}, source: common practice, basis: common practice, "
        f"student: '{'Mind what this says, and ask whenever it is not clear to you. ' * 12}', instructor: Say it.}}"
        for n in range(40)
    )
    (academy / "safety" / "own.yaml").write_text(f"rules:\n{rules}\n", encoding="utf-8")
    with (academy / "students" / PETRA / "student.yaml").open("a", encoding="utf-8") as file:
        file.write("watch: [low-back]\n")
    published = reportgen("publish", academy, "--to", tmp_path / "site")
    lesson = sheets(academy, PETRA)[-1].relative_to(academy).as_posix()
    assert published.exit_code == 1, published.output
    assert published.stderr.startswith(f"{lesson}:1:1: the recap takes ")
    assert area_of(tmp_path / "site", "Bettina")
    assert published.stdout == f"1 student made, 0 unchanged, 1 left as they were: {tmp_path / 'site'}\n"
