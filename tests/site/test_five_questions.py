"""A lesson's pages answer what a student asks, in this order: what did we see, why does it matter, what do I do on
Tuesday, how will I know that it works, when do we meet again. Few words stand before the first drill and the first day.
"""

import re
from collections.abc import Mapping
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest

from reportgen.records.told import ToldLesson
from reportgen.sheets.academy_folder import load_academy
from tests.pages.words import CARE, DAY, DRILL, has, main_of, seen
from tests.site.published import ACADEMY, Page, Site, plain, students

TO_THE_DRILL, TO_THE_DAY = 60, 150
"""Words at most, of all that is seen, the title of the page with them. The cautions of today, which stand before the
drills, are not counted before the first drill; a caution is not shortened for the sake of a count. They are counted
before the first day."""
ORDER = ("Take care", "Work on this", "Your week", "Test yourself", "Goal and next lesson", "Pictures", "The numbers")
CLAUSE = re.compile(r"^(by )?(what|who|whom|how|when|where|why|which|that|if|because)\b", re.IGNORECASE)

Reports = Mapping[str, tuple[ToldLesson, ...]]


def first_pages(site: Site, reports: Reports, student: str) -> list[Path]:
    """The front page and the page of the latest lesson."""
    return [site.areas[student] / "index.html", site.areas[student] / reports[student][-1].lesson / "index.html"]


def main(page: Path) -> Element:
    return main_of(page.read_text(encoding="utf-8"))


@pytest.mark.parametrize("student", students())
def test_few_words_stand_before_the_first_drill_and_the_first_day(site: Site, reports: Reports, student: str) -> None:
    for page in first_pages(site, reports, student):
        top = main(page)
        if has(top, DRILL):
            assert len(seen(top, without=CARE, until=DRILL)) <= TO_THE_DRILL, page
        if has(top, DAY):
            assert len(seen(top, until=DAY)) <= TO_THE_DAY, page


@pytest.mark.parametrize("student", students())
def test_every_drill_and_every_day_of_the_week_is_on_the_front_page(site: Site, reports: Reports, student: str) -> None:
    latest = reports[student][-1]
    said = plain(" ".join(main(site.areas[student] / "index.html").itertext()))
    assert [given.title for given in latest.drills if given.title not in said] == []
    drawn = [given for given in latest.drills if not latest.stopped and given.figures]
    assert len(Page(site.areas[student] / "index.html").all("div", "drawn")) == len(drawn)
    assert has(main(site.areas[student] / "index.html"), DAY) == (latest.practice is not None)


@pytest.mark.parametrize("student", students())
def test_the_sections_stand_in_the_order_of_the_questions(site: Site, reports: Reports, student: str) -> None:
    for page in first_pages(site, reports, student):
        titles = [plain("".join(heading.itertext())) for heading in main(page).iter("h2")]
        found = [title for title in titles if title in ORDER]
        assert found == [title for title in ORDER if title in found], page


def test_the_letter_stands_before_everything_but_the_title_and_a_stop(site: Site, reports: Reports) -> None:
    written = [student for student, lessons in reports.items() if lessons[-1].notes]
    assert len(written) > 5
    for page in (page for student in written for page in first_pages(site, reports, student)):
        blocks = [part for part in main(page) if "lead" not in part.get("class", "").split() and part.tag != "h1"]
        kinds = [part.get("class") for part in blocks[:2]]
        assert kinds[0] == "letter" or kinds == ["stop", "letter"], page


def test_at_most_two_cautions_stand_open_before_the_drills(site: Site) -> None:
    for page in site.pages:
        for block in page.all("section", CARE):
            assert len([e for e in block if "caution" in e.get("class", "")]) in (1, 2), page.path


def test_a_heading_for_students_is_a_noun_or_an_order(site: Site) -> None:
    headings = {
        plain("".join(heading.itertext()))
        for page in site.pages
        if page.path.is_relative_to(site.folder / "upload")
        for level in ("h1", "h2", "h3")
        for heading in page.all(level)
    }
    assert len(headings) > 100
    clauses = {heading for heading in headings if CLAUSE.match(heading)}
    assert clauses - {metric.name for metric in load_academy(ACADEMY).library.metrics.values()} == set()


def test_what_a_number_is_opens_at_its_name(site: Site, reports: Reports) -> None:
    for student, lessons in reports.items():
        for report in lessons:
            page = Page(site.areas[student] / report.lesson / "index.html")
            for finding in report.findings:
                if not finding.listed:
                    continue
                row = next(e for e in page.root.iter("tr") if e.get("id") == finding.metric)
                (name,) = [e for e in row.iter("details") if e.get("class") == "name"]
                assert plain("".join(name.find("summary").itertext())) == finding.short  # type: ignore[union-attr]
                assert plain(finding.explain) in plain("".join(name.itertext()))


def test_what_often_lies_behind_a_value_outside_stands_with_it(site: Site, reports: Reports) -> None:
    outside = 0
    for student, lessons in reports.items():
        for report in lessons:
            page = Page(site.areas[student] / report.lesson / "index.html")
            rows = list(page.root.iter("tr"))
            for finding in report.findings:
                if not finding.listed:
                    continue
                place = next(n for n, row in enumerate(rows) if row.get("id") == finding.metric)
                if finding.verdict in ("above range", "below range"):
                    outside += 1
                    assert plain("".join(rows[place + 1].itertext())) == plain(str(finding.means))
    assert outside > 10
