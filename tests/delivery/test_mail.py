"""The mail about one lesson: its parts, its headers, what it says first and what it never says."""

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import strict
from pathlib import Path
from typing import Any, cast

import pytest

from reportgen.delivery.inline_charts import Inline, inline_pictures
from reportgen.delivery.mail import LARGEST, Correction, Enclosed, MailError, notice_mail, recap_mail, words_of
from reportgen.delivery.recipients import Recipients, one_line, recipients
from reportgen.judging.drill_tests import drills_tested
from reportgen.records.aims import Goal, NextLesson
from reportgen.records.drill_tests import DrillCount
from reportgen.records.report import LessonReport, revision_of
from reportgen.records.told import ToldLesson
from reportgen.saying.aims import told_goal, told_next_lesson
from reportgen.saying.drill_tests import told_tested
from reportgen.sheets.academy_folder import Home
from tests.delivery.conftest import TODAY, Demo

PDF = b"%PDF-1.7 prepared \r\n.\r\n\x00\xff"
PETRA, STOPPED, MINOR = "petra-lumsgate", "bettina-halloran", "miro-tavenhall"
ROSALIND = "rosalind-okevre"
HEADERS = [
    "Content-Language",
    "Content-Type",
    "Date",
    "From",
    "MIME-Version",
    "Message-ID",
    "Reply-To",
    "Subject",
    "To",
]


def mail_of(demo: Demo, name: str, pictures: Mapping[str, Inline] | None = None, **changed: Any) -> EmailMessage:
    """The mail about the latest lesson of a student of the demo, read back from its bytes."""
    report: ToldLesson = changed.pop("report", demo.told(name))
    academy = changed.pop("academy", demo.academy)
    to = changed.pop("to", None) or recipients(demo.student(name), name, TODAY)
    pdf = changed.pop("pdf", PDF)
    enclosed = Enclosed(pdf, pictures or {}, changed.pop("calendar", None), locked=changed.pop("locked", False))
    return read(recap_mail(report, replace(demo.words, academy=academy), to, enclosed, **changed).as_bytes())


def read(data: bytes) -> EmailMessage:
    """Read strictly: any defect is an error."""
    mail = cast(EmailMessage, message_from_bytes(data, policy=strict))
    assert [part.defects for part in mail.walk() if part.defects] == []
    assert [value for value in mail.values() if value.defects] == []
    return mail


def text_of(mail: EmailMessage, kind: str = "plain") -> str:
    body = mail.get_body((kind,))
    assert body is not None
    return str(body.get_content())


def test_it_has_text_html_with_pictures_the_recap_and_the_calendar(demo: Demo) -> None:
    pictures = inline_pictures(demo.told(PETRA))
    mail = mail_of(demo, PETRA, pictures, calendar=b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n")
    assert [part.get_content_type() for part in mail.walk()] == [
        "multipart/mixed", "multipart/alternative", "text/plain", "multipart/related", "text/html",
        *["image/png"] * len(pictures), "application/pdf", "text/calendar",
    ]  # fmt: skip
    attached = {part.get_filename(): part.get_content() for part in mail.iter_attachments()}
    assert attached == {"recap-2026-11-24.pdf": PDF, "practice-2026-11-24.ics": "BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n"}
    calendar = list(mail.iter_attachments())[1]
    assert "method" not in calendar["Content-Type"].params


@pytest.mark.parametrize("kind", ["plain", "html"])
def test_it_says_the_test_of_a_drill_and_what_its_counts_have_come_to(demo: Demo, kind: str) -> None:
    told, first = demo.told(PETRA), demo.told(PETRA).drills[0]
    counts = [
        DrillCount(drill=drill, date=told.date, made=made, of=10, by="instructor")
        for drill, made in ((first.drill, 9), ("toes-free", 2))
    ]
    tested = [told_tested(one, told.date, demo.library) for one in drills_tested(counts, demo.library.drills).values()]
    mail = mail_of(demo, PETRA, report=told.model_copy(update={"tested": tuple(tested)}))
    said = " ".join(re.sub(r"<[^>]+>|:", " ", text_of(mail, kind)).split())
    assert f"{first.title} {first.test} 9 of 10 in this lesson passed." in said
    assert "Test of an earlier drill Toes free. 2 of 10 in this lesson not passed yet." in said


@pytest.mark.parametrize("kind", ["plain", "html"])
def test_it_says_what_a_table_of_shots_shows(demo: Demo, kind: str) -> None:
    told = demo.told("rosalind-okevre")
    said = " ".join(re.sub(r"<[^>]+>", " ", text_of(mail_of(demo, "rosalind-okevre"), kind)).split())
    (shots,) = told.patterns
    sentences = (shots.name, *shots.landed_says, *shots.flew_says, *shots.struck_says, shots.since or "")
    assert [one for one in sentences if " ".join(one.split()) not in said] == []


def test_every_picture_is_inside_and_shown_once(demo: Demo) -> None:
    mail = mail_of(demo, PETRA, inline_pictures(demo.told(PETRA)))
    html = text_of(mail, "html")
    inside = [str(part["Content-ID"])[1:-1] for part in mail.walk() if part["Content-ID"]]
    assert len(inside) >= 3
    assert sorted(re.findall(r'src="cid:([^"]+)"', html)) == sorted(inside)
    assert re.findall(r'src="(?!cid:)|url\(|<link|<script', html) == []
    assert html.count("<img") == html.count('alt="') == len(inside)


def test_it_is_the_same_to_the_byte_each_time(demo: Demo) -> None:
    assert mail_of(demo, PETRA).as_bytes() == mail_of(demo, PETRA).as_bytes()


def test_another_revision_has_another_name_and_the_same_date(demo: Demo) -> None:
    changed = demo.told(PETRA).model_copy(update={"revision": "b" * 64})
    first, second = mail_of(demo, PETRA), mail_of(demo, PETRA, report=changed)
    assert first["Message-ID"] != second["Message-ID"]
    assert first["Date"] == second["Date"]
    assert re.fullmatch(r"<[0-9a-f]{40}@example\.org>", first["Message-ID"])


@pytest.mark.parametrize(
    ("timezone", "noon"),
    [("Europe/Lisbon", "24 Nov 2026 12:00:00 +0000"), ("Pacific/Kiritimati", "24 Nov 2026 12:00:00 +1400")],
)
def test_its_date_is_noon_of_the_lesson_at_the_academy(demo: Demo, timezone: str, noon: str) -> None:
    academy = demo.academy.model_copy(update={"timezone": timezone})
    assert str(mail_of(demo, PETRA, academy=academy)["Date"]) == f"Tue, {noon}"


def test_answers_go_to_the_instructor_and_there_is_no_list(demo: Demo) -> None:
    mail = mail_of(demo, PETRA)
    assert str(mail["Reply-To"]) == "Ilda Serravento <ilda@example.org>"
    assert sorted(mail.keys()) == HEADERS


def test_an_instructor_without_an_address_cannot_send(demo: Demo) -> None:
    instructor = demo.academy.instructor.model_copy(update={"mail": None})
    with pytest.raises(MailError, match="instructor has no address"):
        mail_of(demo, PETRA, academy=demo.academy.model_copy(update={"instructor": instructor}))


def test_after_a_stop_the_caution_comes_first_and_there_is_no_plan(demo: Demo) -> None:
    report = demo.told(STOPPED)
    mail = mail_of(demo, STOPPED, inline_pictures(report))
    stop = next(c.text for c in report.cautions if c.level == "stop").split(".")[0]
    for kind in ("plain", "html"):
        said = " ".join(re.sub(r"<style>.*?</style>|<[^>]+>", " ", text_of(mail, kind), flags=re.S).split())
        assert said.index(stop) < said.index("your lesson of 18 November showed")
        assert not re.search(r"\bdrill\b(?!s here)|work on this|your week|feel:|swings a day", said, re.IGNORECASE)
    assert "stop" not in mail["Subject"].lower()


def test_a_minors_mail_speaks_to_the_guardian(demo: Demo) -> None:
    mail = mail_of(demo, MINOR)
    assert str(mail["To"]) == "Henrik Tavenhall <henrik.tavenhall@example.org>"
    assert text_of(mail).splitlines()[2] == "Dear Henrik Tavenhall,"
    assert mail["Subject"] == "Miro’s lesson of 14 November 2026"


def test_the_page_is_named_only_where_it_is_known(demo: Demo) -> None:
    page = "https://lessons.example.org/s/abcdefghijklmnopqrstuvwxyz/2026-11-24/index.html"
    without, with_page = mail_of(demo, PETRA), mail_of(demo, PETRA, page=page)
    assert page in text_of(with_page).splitlines()
    assert f'href="{page}"' in text_of(with_page, "html")
    assert "://" not in text_of(without) + text_of(without, "html")


def test_a_correction_says_what_changed_and_belongs_to_the_first_mail(demo: Demo) -> None:
    mail = mail_of(demo, PETRA, correction=Correction("<first@example.org>", "Tempo is now 3.1, in range."))
    assert mail["Subject"] == "Corrected: Your lesson of 24 November 2026"
    assert mail["In-Reply-To"] == mail["References"] == "<first@example.org>"
    for kind in ("plain", "html"):
        assert "What changed: Tempo is now 3.1, in range." in " ".join(text_of(mail, kind).split())


@pytest.mark.parametrize("name", [PETRA, MINOR])
def test_only_a_mail_whose_recap_is_locked_says_so_and_how_to_open_it(demo: Demo, name: str) -> None:
    plain, locked = mail_of(demo, name), mail_of(demo, name, locked=True)
    assert locked["Subject"] == f"{plain['Subject']} (PDF locked)"
    whose = "Miro’s letter" if name == MINOR else "your letter"
    for kind in ("plain", "html"):
        said = " ".join(text_of(locked, kind).split())
        assert f"locked with the passphrase from {whose}" in said
        assert "small letters, with the spaces or all together. Capitals and dashes do not open a PDF." in said
        assert not re.search("locked|passphrase", text_of(plain, kind))


PAGES = "https://lessons.example.org/s/abcdefghijklmnopqrstuvwxyz/"


def notice_of(demo: Demo, name: str, **changed: Any) -> EmailMessage:
    report, on = demo.told(name), date(2026, 12, 24)
    to = recipients(demo.student(name), name, on)
    return read(notice_mail(report, demo.words, to, PAGES, on, **changed).as_bytes())


@pytest.mark.parametrize("name", [PETRA, STOPPED, MINOR])
@pytest.mark.parametrize("corrects", [None, "<first@example.org>"])
def test_a_notice_holds_the_address_and_nothing_of_the_report(demo: Demo, name: str, corrects: str | None) -> None:
    report, mail = demo.told(name), notice_of(demo, name, corrects=corrects)
    assert [part.get_content_type() for part in mail.walk()] == ["text/plain"]
    text = text_of(mail)
    assert PAGES in text.splitlines()
    said = f"{mail['Subject']} {text}"
    told = [report.lesson, str(report.date.year), report.club, "lesson", "golf", *(f.short for f in report.findings)]
    told += [d.title for d in report.drills] + [p.headline for p in report.priorities] + [report.person.name]
    for allowed in (PAGES, demo.academy.name, mail["To"].addresses[0].display_name):
        said = said.replace(allowed, "")
    assert [word for word in told if word.lower() in said.lower()] == []
    assert not re.search(r"\d", said)


def test_a_notice_to_a_guardian_does_not_name_the_child(demo: Demo) -> None:
    mail = notice_of(demo, MINOR)
    assert text_of(mail).startswith("Dear Henrik Tavenhall,")
    assert b"Miro" not in mail.as_bytes()


def test_a_notice_is_dated_by_the_day_of_sending_and_is_the_same_to_the_byte(demo: Demo) -> None:
    mail = notice_of(demo, PETRA)
    assert str(mail["Date"]) == "Thu, 24 Dec 2026 12:00:00 +0000"
    assert sorted(mail.keys()) == sorted([*HEADERS, "Content-Transfer-Encoding"])
    assert mail.as_bytes() == notice_of(demo, PETRA).as_bytes()


def test_what_is_for_the_desk_stays_there(demo: Demo) -> None:
    report = demo.told(PETRA).model_copy(update={"for_the_desk": ("Xylophone.",)})
    assert b"Xylophone" not in mail_of(demo, PETRA, report=report).as_bytes()


def test_text_of_a_sheet_is_text_in_the_html(demo: Demo) -> None:
    report = demo.told(PETRA).model_copy(update={"focus": None, "notes": "<img src=http://example.org/x> & more"})
    html = text_of(mail_of(demo, PETRA, report=report), "html")
    assert "&lt;img src=http://example.org/x&gt; &amp; more" in html
    assert "<img src=http://example.org/x> & more" in text_of(mail_of(demo, PETRA, report=report))


def test_pictures_give_way_before_a_mail_grows_too_large(demo: Demo) -> None:
    pictures = inline_pictures(demo.told(PETRA))
    room = len(mail_of(demo, PETRA, {}, pdf=b"").as_bytes()) + 2000
    pdf = b"x" * int((LARGEST - room) / 78 * 57)  # 57 bytes make a line of 78 in base64
    mail = mail_of(demo, PETRA, pictures, pdf=pdf)
    assert len(mail.as_bytes()) <= LARGEST
    assert [p.get_content() for p in mail.iter_attachments()] == [pdf]
    assert text_of(mail, "html").count("<img") == len([p for p in mail.walk() if p["Content-ID"]]) < len(pictures)
    with pytest.raises(MailError, match="more than 5 MB"):
        mail_of(demo, PETRA, pdf=pdf + b"x" * 10_000)


def test_an_address_that_needs_utf8_gets_it_and_no_other(demo: Demo) -> None:
    ascii_mail = mail_of(demo, PETRA, to=Recipients("Zoë Ångström", ("zoe@example.org",)))
    assert ascii_mail.as_bytes().split(b"\r\n\r\n")[0].isascii()
    report = demo.told(PETRA)
    mail = recap_mail(report, demo.words, Recipients("Zoë", ("zoë@example.org",)), Enclosed(PDF))
    assert " <zoë@example.org>\r\n".encode() in mail.as_bytes()


def test_every_line_ends_as_the_transport_wants_it(demo: Demo) -> None:
    report = demo.told(PETRA)
    to = recipients(demo.student(PETRA), PETRA, TODAY)
    data = recap_mail(report, demo.words, to, Enclosed(PDF, inline_pictures(report))).as_bytes()
    assert re.search(rb"\r(?!\n)|(?<!\r)\n", data) is None
    assert max(map(len, data.split(b"\r\n"))) <= 998
    assert data.endswith(b"\r\n")


def test_a_theme_of_the_academy_takes_the_place_of_the_shipped_words(demo: Demo, tmp_path: Path) -> None:
    (tmp_path / "ours").mkdir()
    (tmp_path / "ours" / "mail-subject.txt").write_text("{{ report.person.first_name }} & golf\n")
    academy = demo.academy.model_copy(update={"theme": "ours"})
    report = demo.told(PETRA)
    to = recipients(demo.student(PETRA), PETRA, TODAY)
    mail = recap_mail(report, words_of(Home(tmp_path, academy)), to, Enclosed(PDF))
    assert mail["Subject"] == "Petra & golf"


@pytest.mark.parametrize(
    "name",
    [
        "Eve\u2028Bcc: other@example.org",
        "Eve\x85Bcc: other@example.org",
        "Eve\r\nBcc: other@example.org",
        "=?utf-8?q?Eve=0D=0ABcc:_other=40example.org?=",
        'Eve" <other@example.org>, "',
        "Eve, other@example.org",
        "學校 (Zoë’s) " * 12,
        "\\",
    ],
)
def test_a_name_means_what_it_says_and_adds_nothing(demo: Demo, name: str) -> None:
    instructor = demo.academy.instructor.model_copy(update={"name": name})
    academy = demo.academy.model_copy(update={"instructor": instructor, "name": name})
    person = demo.told(PETRA).person.model_copy(update={"first_name": name})
    report = demo.told(PETRA).model_copy(update={"person": person})
    to = Recipients(one_line(name), ("first@example.org", "second@example.org"), one_line(name))
    mail = mail_of(demo, PETRA, to=to, academy=academy, report=report)
    assert sorted(mail.keys()) == HEADERS
    assert [a.addr_spec for a in mail["To"].addresses] == list(to.addresses)
    assert [a.addr_spec for a in mail["From"].addresses] == ["ilda@example.org"]
    assert [a.addr_spec for a in mail["Reply-To"].addresses] == ["ilda@example.org"]


def test_the_revision_is_that_of_the_whole_report(demo: Demo) -> None:
    report = demo.report(PETRA)
    assert revision_of(report) == revision_of(LessonReport.model_validate_json(report.model_dump_json(by_alias=True)))
    assert revision_of(report) != revision_of(report.model_copy(update={"number": report.number + 1}))


def with_what_comes_next(demo: Demo, name: str, stopped: bool) -> ToldLesson:
    goal = told_goal(Goal(what="Break 90", by=None if stopped else date(2027, 9, 30)), stopped=stopped)
    lesson = told_next_lesson(NextLesson(date=date(2026, 12, 3), time="17:30"))
    return demo.told(name).model_copy(update={"goal": goal, "next_lesson": lesson})


@pytest.mark.parametrize(
    ("name", "stopped", "says"),
    [(PETRA, False, "By 30 September 2027."), (STOPPED, True, "It stays your goal. There is no hurry.")],
)
@pytest.mark.parametrize("form", ["plain", "html"])
def test_the_goal_and_the_next_lesson_are_in_the_mail(
    demo: Demo, name: str, stopped: bool, says: str, form: str
) -> None:
    body = mail_of(demo, name, report=with_what_comes_next(demo, name, stopped)).get_body((form,))
    assert body is not None
    words = " ".join(re.sub(r"<[^>]+>", " ", body.get_content()).replace(":", " ").split())
    assert f"Your goal Break 90. {says}" in words
    assert "Your next lesson Thursday, 3 December 2026, 17 30" in words


@pytest.mark.parametrize("form", ["plain", "html"])
def test_what_was_seen_at_setup_is_a_line_of_the_mail(demo: Demo, form: str) -> None:
    body = mail_of(demo, ROSALIND).get_body((form,))
    assert body is not None
    assert "At set-up: aim 1° to the trail side (last time, on 3 November: 5° to the trail side); " in " ".join(
        body.get_content().split()
    )


@pytest.mark.parametrize(
    ("name", "file", "says"),
    [
        (PETRA, "practice-2026-11-24.ics", "your week of practice and your next lesson into your calendar."),
        (STOPPED, "next-lesson-2026-11-18.ics", "Open the other file to put your next lesson into your calendar."),
    ],
)
def test_the_file_for_the_calendar_is_named_by_what_is_in_it(demo: Demo, name: str, file: str, says: str) -> None:
    report = with_what_comes_next(demo, name, name == STOPPED)
    mail = mail_of(demo, name, report=report, calendar=b"BEGIN:VCALENDAR")
    assert [part.get_filename() for part in mail.iter_attachments()][-1] == file
    body = mail.get_body(("plain",))
    assert body is not None
    assert says in " ".join(body.get_content().split())
