"""A stop that is mailed to a parent or guardian speaks to them, names the child first, and quotes the child's page."""

import re
from pathlib import Path

import pytest

from reportgen.records.told import ToldLesson
from tests.delivery.conftest import Demo
from tests.delivery.test_mail import MINOR, STOPPED, mail_of, text_of
from tests.judging.academies import ADULT, JUNIOR, judged, reading, sheet

BACK = "comfort: [{site: low-back, score: 5, when: during}]"
KNEE = "comfort: [{site: lead-knee, score: 5, when: during}]"


def told(root: Path, comfort: str, *, student: str = JUNIOR) -> ToldLesson:
    lessons = {"2026-11-12": sheet(reading("pelvis-open-impact", 80, u=1), comfort, "notes: '**Rest** well.'")}
    return judged(root, lessons, student)[-1]


def said(demo: Demo, report: ToldLesson, kind: str) -> str:
    text = text_of(mail_of(demo, MINOR, report=report), kind)
    return " ".join(re.sub(r"<style>.*?</style>|<[^>]+>", " ", text, flags=re.S).split())


@pytest.mark.parametrize("kind", ["plain", "html"])
def test_the_child_is_named_in_the_first_sentence(demo: Demo, tmp_path: Path, kind: str) -> None:
    text = said(demo, told(tmp_path, BACK), kind)
    assert (
        "Dear Henrik Tavenhall, Ines’s back hurt (12 November), so Ines should not swing until a doctor or "
        "physiotherapist has said that it is all right. There is no practice until then. Please tell Ilda Serravento "
        "when that is done." in text
    )


@pytest.mark.parametrize("kind", ["plain", "html"])
def test_what_the_child_reads_comes_after_it_is_said_to_be_the_childs(demo: Demo, tmp_path: Path, kind: str) -> None:
    report = told(tmp_path, BACK)
    text = said(demo, report, kind)
    child = next(c.text for c in report.cautions if c.level == "stop")
    assert text.index("It is written to Ines; please read it together.") < text.index(child[:40])
    assert text.count(child[:40]) == 1


@pytest.mark.parametrize("kind", ["plain", "html"])
def test_signs_for_a_doctor_at_once_stand_with_the_stop_and_once(demo: Demo, tmp_path: Path, kind: str) -> None:
    text = said(demo, told(tmp_path, BACK), kind)
    signs = "tell a grown-up and see a doctor today"
    assert text.count(signs) == 1
    assert text.index(signs) < text.lower().index("the numbers")


def test_another_place_is_named(demo: Demo, tmp_path: Path) -> None:
    assert "Something hurt Ines (12 November: lead knee). Until a doctor or physiotherapist has said" in said(
        demo, told(tmp_path, KNEE), "plain"
    )


@pytest.mark.parametrize("kind", ["plain", "html"])
def test_it_says_no_he_and_no_she(demo: Demo, tmp_path: Path, kind: str) -> None:
    first = said(demo, told(tmp_path, BACK), kind).partition("It is written to")[0]
    assert not re.search(r"\b(he|she|him|her|his|your)\b", first, re.IGNORECASE)


def test_an_adult_hears_of_it_directly(demo: Demo, tmp_path: Path) -> None:
    report = told(tmp_path, "comfort: [{site: low-back, score: 8, when: during}]", student=ADULT)
    assert report.for_guardian is None
    assert "STOP, AND SEE SOMEONE FIRST" in text_of(mail_of(demo, STOPPED))


def test_no_plain_mail_has_asterisks(demo: Demo, tmp_path: Path) -> None:
    text = text_of(mail_of(demo, MINOR, report=told(tmp_path, BACK)))
    assert "Rest well." in text
    assert "*" not in text
