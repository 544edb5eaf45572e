"""While a stop stands, no output has a drill, a dose, a week of practice or a count of swings, in whatever lesson."""

import json
import re
from pathlib import Path

import pytest

from tests.judging.academies import ID, library, reading, sheet, write_academy
from tests.publishing.small import areas, reportgen
from tests.site.published import Page, pdf_text, plain

FAR_OPEN = reading("pelvis-open-impact", 80, u=1)
GIVEN = "drills: [{drill: count-the-swing, dose: 3 x 10 slow, note: Hum while you do it.}]"
LOG = (
    "practice_log: [{{date: {}, swings: 77, minutes: 45, test: {{drill: count-the-swing, made: 9}}}}, "
    "{{date: {}, swings: 66, kind: speed-sticks}}]"
)
SHOTS = (
    "shots: [{drill: count-the-swing, made: 9, of: 10}, {count: on-line, made: 5, of: 10, width: 2 m, distance: 20 m}]"
)
LESSONS = {
    "2026-02-05": sheet(FAR_OPEN, GIVEN, LOG.format("2026-02-01", "2026-02-03")),
    "2026-02-19": sheet(FAR_OPEN, GIVEN, "comfort: [{site: low-back, score: 7, when: during}]", SHOTS),
    "2026-03-05": sheet(FAR_OPEN, GIVEN, LOG.format("2026-02-27", "2026-03-01")),
}
CLEARED = "cleared: {by: Dr Invented, on: 2026-03-04}"

TITLES = [drill.title for drill in library().drills.values()]
PRACTICE = re.compile(
    r"\d+ (full )?swings|\d+ [x×] \d+|\d+ (min|minutes) of|Your week|Hum while|calendar|in a row|9 of 10",
    re.IGNORECASE,
)


@pytest.fixture(scope="module")
def academy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_academy(tmp_path_factory.mktemp("stopped") / "academy", LESSONS)


@pytest.fixture(scope="module")
def site(academy: Path) -> Path:
    assert reportgen("publish", academy, "--to", academy.parent / "site").exit_code == 0
    return academy.parent / "site"


def _practice_in(text: str) -> list[str]:
    return [title for title in TITLES if title in text] + [found[0] for found in PRACTICE.finditer(text)]


def test_no_page_of_the_student_has_a_plan(site: Path) -> None:
    (area,) = areas(site)
    pages = sorted(area.rglob("*.html"))
    assert {page.parent.name for page in pages} >= set(LESSONS)
    assert {str(page): _practice_in(Page(page).text) for page in pages if _practice_in(Page(page).text)} == {}
    assert list(area.rglob("*.ics")) == []
    assert [page.name for page in area.glob("drills/*")] == ["index.html"]


def test_no_recap_has_a_plan(site: Path) -> None:
    recaps = sorted((site / "upload" / "s").rglob("recap.pdf"))
    assert len(recaps) == len(LESSONS)
    assert [_practice_in(plain(pdf_text(recap))) for recap in recaps] == [[]] * len(LESSONS)


def test_the_desk_says_that_the_student_is_stopped_and_gives_no_plan(site: Path) -> None:
    text = Page(site / "desk" / "index.html").text
    assert "stopped" in text
    assert [title for title in TITLES if title in text] == []


@pytest.mark.parametrize("day", LESSONS)
def test_the_judged_lesson_as_json_has_no_plan(academy: Path, day: str) -> None:
    told = reportgen("findings", academy, ID, day, "--json", "--language", "en").stdout
    report = json.loads(told)
    assert (report["drills"], report["practice"], report["practised"], report["load"]) == ([], None, None, None)
    said = json.dumps({key: value for key, value in report.items() if key not in ("cautions", "findings")})
    assert [drill for drill in library().drills if drill in said] == []
    assert _practice_in(said) == []


@pytest.mark.parametrize("day", LESSONS)
def test_the_table_of_findings_has_no_plan(academy: Path, day: str) -> None:
    told = reportgen("findings", academy, ID, day).stdout
    assert "Drill" not in told
    assert _practice_in(told) == []


def test_the_recap_alone_has_no_plan(academy: Path, tmp_path: Path) -> None:
    reportgen("recap", academy, ID, "2026-02-05", "--to", tmp_path / "recap.pdf")
    assert _practice_in(plain(pdf_text(tmp_path / "recap.pdf"))) == []


def test_the_pages_say_whom_to_see(site: Path) -> None:
    (area,) = areas(site)
    for page in ("index.html", "safety.html", "2026-02-19/index.html", "2026-03-05/index.html"):
        assert "Stop, and see someone first" in Page(area / page).text
        assert "see a doctor or physiotherapist before you swing again" in Page(area / page).text


def test_once_a_clinician_has_cleared_the_student_the_pages_are_back_and_the_week_comes_in_steps(
    tmp_path: Path,
) -> None:
    last = f"{LESSONS['2026-03-05']}\n{CLEARED}"
    academy = write_academy(tmp_path / "academy", {**LESSONS, "2026-03-05": last})
    assert reportgen("publish", academy, "--to", tmp_path / "site").exit_code == 0
    (area,) = areas(tmp_path / "site")
    for place in (
        Page(area / "2026-03-05" / "index.html").text,
        Page(area / "2026-02-05" / "index.html").text,
        Page(area / "drills" / "index.html").text,
        plain(pdf_text(area / "2026-03-05" / "recap.pdf")),
        reportgen("findings", academy, ID, "2026-03-05", "--json", "--language", "en").stdout,
    ):
        assert library().drills["count-the-swing"].title in place
    assert "Stop, and see" not in Page(area / "index.html").text
    assert "Step 1 of 10, putting: 40 putts." in Page(area / "2026-03-05" / "index.html").text
    assert "143 full swings" in Page(area / "safety.html").text
