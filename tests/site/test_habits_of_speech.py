"""What a student is told keeps the habits of the house: no word that it avoids, and sentences of one breath."""

import ast
import re
from collections.abc import Iterator, Mapping
from xml.etree.ElementTree import Element

import pytest

from reportgen.delivery.mail import Enclosed, recap_mail, words_of
from reportgen.delivery.recipients import Recipients
from reportgen.records.told import ToldLesson
from reportgen.sheets.academy_folder import load_academy, sound
from tests.content.test_words import AVOIDED, LONGEST, sentences
from tests.pages.words import main_of
from tests.site.published import ACADEMY, ROOT, SVG, Site, pdf_text, plain, students

Reports = Mapping[str, tuple[ToldLesson, ...]]

SPEAKERS = {"say", "later", "say_count"}
FOR_THE_TEACHER = {"desk.py"}
"""Modules that speak to the teacher alone."""
NAMES = {
    "Strike towards the toe", "Strike towards the heel", "Strike high on the face", "Strike low on the face",
    "strike across the face", "strike up the face",  # of columns and of links of a chain: where the face met the ball
    "the seat",  # of a chair, in a drill's figure
    "more likely than not",  # a rung of the IPCC's scale, whose words are its own; shown in a table alone
}  # fmt: skip
"""Names that keep a word which sentences avoid, each with its reason."""
TEACHERS_OWN = {"letter", "pictures", "lead", "facts", "everybody"}
"""Parts of a page in words that the teacher or the student wrote, and cautions for all, which are tested elsewhere."""


def messages() -> list[str]:
    """Every English message of the modules that speak to a student."""
    found = []
    for file in sorted((ROOT / "reportgen" / "saying").glob("*.py")):
        if file.name in FOR_THE_TEACHER:
            continue
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in SPEAKERS:
                found += [a.value for a in node.args if isinstance(a, ast.Constant) and isinstance(a.value, str)]
    return found


def test_no_message_to_a_student_has_a_word_that_the_house_avoids() -> None:
    said = messages()
    assert len(said) > 400
    assert [message for message in said if AVOIDED.search(message) and message not in NAMES] == []


def test_every_sentence_said_is_read_in_one_breath() -> None:
    assert [s for message in messages() for s in sentences(message) if len(s.split()) > LONGEST] == []


def test_every_name_that_keeps_an_avoided_word_is_still_said() -> None:
    assert NAMES - set(messages()) == set()


def told(element: Element) -> Iterator[str]:
    """The texts of a page that the program says, drawings and words of the teacher left out."""
    classes = set(element.get("class", "").split())
    if element.tag == SVG or classes & TEACHERS_OWN:
        return
    yield element.text or ""
    for child in element:
        yield from told(child)
        yield child.tail or ""


@pytest.mark.parametrize("student", students())
def test_no_page_of_a_lesson_has_a_word_that_the_house_avoids(site: Site, reports: Reports, student: str) -> None:
    found = set()
    for report in reports[student]:
        page = site.areas[student] / report.lesson / "index.html"
        text = plain(" ".join(told(main_of(page.read_text(encoding="utf-8")))))
        for name in NAMES:
            text = text.replace(name, "")
        own = {word for note in written(report) for word in AVOIDED.findall(note)}
        found |= {word for word in AVOIDED.findall(text) if word not in own}
    assert found == set()


@pytest.mark.parametrize("student", students())
def test_no_recap_and_no_mail_has_a_word_that_the_house_avoids(site: Site, reports: Reports, student: str) -> None:
    words = words_of(sound(load_academy(ACADEMY)))
    to = Recipients("Reader", ("reader@example.org",))
    found = set()
    for report in reports[student]:
        body = recap_mail(report, words, to, Enclosed(b"%PDF-1.7")).get_body(("plain",))
        assert body is not None
        recap = pdf_text(site.areas[student] / report.lesson / "recap.pdf")
        sheet = ACADEMY / "students" / student / "lessons" / f"{report.lesson}.yaml"
        own = {word.lower() for word in AVOIDED.findall(sheet.read_text(encoding="utf-8"))}
        for text in (plain(recap), plain(body.get_content())):
            for name in NAMES:
                text = text.replace(name, "")
            found |= {word for word in AVOIDED.findall(text) if word.lower() not in own}
    assert found == set()


def written(report: ToldLesson) -> Iterator[str]:
    """What the teacher wrote beside a value, a count or a drill."""
    for one in (*report.findings, *report.counts, *report.strikes, *report.drills, *report.setup):
        yield getattr(one, "note", None) or ""


def test_a_sentence_of_a_plan_is_read_in_one_breath(reports: Reports) -> None:
    long = set()
    for lessons in reports.values():
        for report in lessons:
            said = [text for one in report.priorities for text in (one.seen, one.because, one.more)]
            said += [report.practice.says, report.practice.most] if report.practice else []
            said += (
                [text for text in (report.outlook.keep_says, report.outlook.next_says) if text]
                if report.outlook
                else []
            )
            long |= {s for text in said for s in re.split(r"(?<=[.!?])\s+", text) if len(s.split()) > LONGEST + 6}
    assert long == set()
