"""Which lessons' mails go, which are held back and why, from the journal alone."""

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest

from reportgen.delivery.choosing import Answers, Chosen, Held, answered, choose
from reportgen.delivery.journal import Entry
from reportgen.delivery.mail import revision_of
from reportgen.delivery.status import delivery_status
from reportgen.errors import ReportgenError
from reportgen.records.report import LessonReport
from tests.delivery.conftest import Demo

PETRA = "petra-lumsgate"


@pytest.fixture(scope="session")
def now(demo: Demo) -> LessonReport:
    return demo.report(PETRA)


@pytest.fixture(scope="session")
def before(now: LessonReport) -> LessonReport:
    """The same lesson as it stood before it was corrected."""
    return now.model_copy(update={"notes": "Other words."})


def entry(about: LessonReport, **changed: Any) -> Entry:
    usual: dict[str, Any] = {
        "id": 1, "student": PETRA, "lesson": about.lesson, "revision": revision_of(about), "message_id": "<a@x>",
        "addresses": ("petra@example.org",), "report": about.model_dump_json(by_alias=True), "corrects": None,
        "state": "sent", "via": "smtp", "at": datetime(2026, 11, 25, 9, tzinfo=UTC), "says": "", "bounces": {},
    }  # fmt: skip
    return replace(Entry(**usual), **changed)


def chosen(demo: Demo, *entries: Entry, reports: Any = None, **how: Any) -> tuple[list[Chosen], list[str]]:
    """What is sent, and what is said of the rest."""
    judged = {PETRA: reports or [demo.report(PETRA)]}
    found, held = choose(judged, {PETRA: demo.student(PETRA)}, entries, **how)
    return list(found), [left.says for left in held]


def test_a_lesson_without_a_mail_goes(demo: Demo, now: LessonReport) -> None:
    found, held = chosen(demo)
    assert [(one.report.lesson, one.correction) for one in found] == [(now.lesson, None)]
    assert held == []


@pytest.mark.parametrize("correction", [False, True])
def test_a_lesson_whose_mail_went_is_done(demo: Demo, now: LessonReport, correction: bool) -> None:
    assert chosen(demo, entry(now), correction=correction) == ([], [])


def test_a_queued_mail_goes(demo: Demo, now: LessonReport) -> None:
    assert len(chosen(demo, entry(now, state="queued"))[0]) == 1


@pytest.mark.parametrize("state", ["unknown", "sending"])
def test_a_mail_in_doubt_never_goes_by_itself(demo: Demo, now: LessonReport, state: str) -> None:
    found, held = chosen(demo, entry(now, state=state), correction=True)
    assert found == []
    assert "--arrived 1 or --resend 1" in held[0]


def test_a_corrected_lesson_waits_for_a_word_and_then_says_what_changed(
    demo: Demo, now: LessonReport, before: LessonReport
) -> None:
    first = entry(before)
    found, held = chosen(demo, first)
    assert (found, len(held)) == ([], 1)
    assert "use --correction. What changed: The notes changed." in held[0]
    found, held = chosen(demo, first, correction=True)
    assert [(one.corrects, one.correction) for one in found] == [(first, "The notes changed.")]
    assert held == []


def test_a_revision_that_no_reader_could_tell_apart_is_done(demo: Demo, now: LessonReport) -> None:
    same = now.model_copy(update={"for_the_desk": ("Ask about the knee.",)})
    assert chosen(demo, entry(same), correction=True) == ([], [])


@pytest.mark.parametrize("state", ["failed", "queued"])
def test_a_lesson_corrected_before_its_mail_arrived_goes_as_if_new(
    demo: Demo, before: LessonReport, state: str
) -> None:
    found, _ = chosen(demo, entry(before, state=state))
    assert [one.correction for one in found] == [None]


def test_a_correction_that_was_put_off_goes_as_a_correction(
    demo: Demo, now: LessonReport, before: LessonReport
) -> None:
    first, second = entry(before), entry(now, id=2, state="queued", corrects=1)
    found, _ = chosen(demo, first, second)
    assert [(one.corrects, one.correction) for one in found] == [(first, "The notes changed.")]


@pytest.mark.parametrize(
    "changed", [{"state": "failed", "says": "550 no such user"}, {"bounces": {"petra@example.org": "5.1.1 unknown"}}]
)
def test_a_mail_that_did_not_arrive_waits_until_the_address_is_mended(
    demo: Demo, now: LessonReport, changed: dict[str, Any]
) -> None:
    found, held = chosen(demo, entry(now, **changed))
    assert found == []
    assert "Mend the address, or use --resend 1" in held[0]
    wrong = {address.replace("petra@", "perta@"): why for address, why in changed.get("bounces", {}).items()}
    mended = entry(now, **{**changed, "bounces": wrong, "addresses": ("perta@example.org",)})
    assert [one.to.addresses for one in chosen(demo, mended)[0]] == [("petra@example.org",)]


def test_a_mail_made_by_an_earlier_program_is_corrected_in_general_words(demo: Demo, before: LessonReport) -> None:
    found, _ = chosen(demo, entry(before, report='{"old": true}'), correction=True)
    assert [one.correction for one in found] == ["It was written anew."]


def lesson_on(day: str, now: LessonReport) -> LessonReport:
    return now.model_copy(update={"lesson": day, "date": date.fromisoformat(day[:10])})


def test_the_latest_lesson_goes_or_all_since_a_day_or_those_still_queued(demo: Demo, now: LessonReport) -> None:
    lessons = [lesson_on(day, now) for day in ("2026-09-01", "2026-10-01", "2026-10-01-2", "2026-11-24")]

    def days(*entries: Entry, **how: Any) -> list[str]:
        return [one.report.lesson for one in chosen(demo, *entries, reports=lessons, **how)[0]]

    assert days() == ["2026-11-24"]
    assert days(since=date(2026, 10, 1)) == ["2026-10-01", "2026-10-01-2", "2026-11-24"]
    assert days(entry(lessons[0], state="queued")) == ["2026-09-01", "2026-11-24"]
    assert days(since=date(2027, 1, 1)) == []


def test_a_student_without_an_address_is_held(demo: Demo, now: LessonReport) -> None:
    nobody = demo.student(PETRA).model_copy(update={"mail": ()})
    found, held = choose({PETRA: [now]}, {PETRA: nobody}, ())
    assert found == ()
    assert held == (Held(PETRA, now.lesson, "petra-lumsgate has no address. Write mail: [...] into student.yaml."),)


def test_a_person_settles_a_doubt(now: LessonReport) -> None:
    doubt = entry(now, state="unknown")
    assert answered([doubt], Answers(arrived=frozenset({1})))[0].state == "sent"
    assert answered([doubt], Answers(resend=frozenset({1})))[0].state == "queued"
    assert answered([doubt], Answers()) == (doubt,)


def test_what_came_back_or_went_may_be_sent_again_on_a_persons_word(now: LessonReport) -> None:
    again = answered([entry(now, bounces={"petra@example.org": "full"})], Answers(resend=frozenset({1})))[0]
    assert (again.state, again.bounces) == ("queued", {})


@pytest.mark.parametrize("answers", [Answers(resend=frozenset({7})), Answers(arrived=frozenset({1}))])
def test_an_answer_to_no_question_is_told(now: LessonReport, answers: Answers) -> None:
    with pytest.raises(ReportgenError, match=r"no mail 7|no doubt about it"):
        answered([entry(now)], answers)


@pytest.mark.parametrize(
    ("changed", "standing"),
    [
        ({}, "mailed"),
        ({"via": "outbox"}, "written"),
        ({"bounces": {"petra@example.org": "full"}}, "bounced"),
        ({"state": "failed"}, "refused"),
        ({"state": "unknown"}, "in doubt"),
        ({"state": "queued"}, "waiting"),
    ],
)
def test_the_desk_is_told_how_the_mail_about_the_latest_lesson_stands(
    now: LessonReport, changed: dict[str, Any], standing: str
) -> None:
    older = replace(entry(lesson_on("2026-09-01", now)), id=2)
    status = delivery_status([entry(now, **changed), older])
    assert {name: (d.lesson, d.standing, d.on) for name, d in status.items()} == {
        PETRA: (now.lesson, standing, date(2026, 11, 25))
    }
