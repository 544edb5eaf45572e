"""What a student reads is at least as easy as a newspaper, by the standard formula of each language."""

from collections.abc import Iterator

import pytest

from reportgen.pipeline import load, reports_of
from reportgen.records.told import ToldLesson
from reportgen.saying.readers import Reader, language_called
from reportgen.saying.telling import tell_all
from reportgen.sheets.academy_folder import sound
from tests.publishing.small import DEMO
from tests.saying.reading_ease import NEWSPAPER, reading_ease, syllables


def said(report: ToldLesson) -> Iterator[str]:
    """Every sentence for the student in a lesson, without the teacher's own letter."""
    yield report.summary
    for priority in report.priorities:
        yield from (f"{priority.headline}.", priority.because, priority.more)
    for given in report.drills:
        yield from (f"{given.aim}", given.feel, given.test or "")
    if report.practice:
        yield report.practice.says
        yield from (item.what for day in report.practice.days for item in day.items)
    yield from (caution.text for caution in report.cautions)
    for finding in report.findings:
        yield from (finding.explain, finding.means or "")
    yield from (series.says for series in report.progress)
    yield from (tested.says for tested in report.tested)


@pytest.fixture(scope="module")
def home():
    return load(DEMO)


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_the_students_text_is_as_easy_as_a_newspaper(home, language):
    reader = Reader(language_called(language, DEMO))
    lessons = [
        report
        for student in home.students.values()
        for report in tell_all(reports_of(student, sound(home)), home.library, reader)
    ]
    assert len(lessons) >= 60
    text = " ".join(dict.fromkeys(sentence for report in lessons for sentence in said(report) if sentence))
    ease = reading_ease(text, language)
    assert ease >= NEWSPAPER, f"{language}: {ease:.1f}"


@pytest.mark.parametrize(
    ("language", "word", "count"),
    [
        ("en", "hips", 1), ("en", "shoulder", 2), ("en", "measured", 2), ("en", "picture", 2), ("en", "the", 1),
        ("de", "Hüfte", 2), ("de", "beieinander", 4), ("de", "Bälle", 2),
        ("fr", "balle", 1), ("fr", "épaules", 2), ("fr", "hanche", 1), ("fr", "bouger", 2),
    ],
)  # fmt: skip
def test_syllables_are_counted_as_they_are_spoken(language, word, count):
    assert syllables(word, language) == count


def test_a_sentence_for_children_is_easier_than_one_for_lawyers():
    child = "Hit the ball. Look at the grass. Hold the end for two counts."
    lawyer = "Notwithstanding the aforementioned considerations, rotational acceleration necessitates stabilisation."
    assert reading_ease(child, "en") > 90 > 0 > reading_ease(lawyer, "en")
