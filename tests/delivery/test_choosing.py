"""Which lessons' mails go, which are held back and why, from the journal alone."""

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest

from reportgen.delivery.changes import as_mailed
from reportgen.delivery.choosing import Answers, Chosen, Wanted, answered, choose
from reportgen.delivery.entry import Entry, Reach
from reportgen.delivery.status import delivery_status
from reportgen.errors import ReportgenError
from reportgen.records.mail import StudentMail
from reportgen.records.report import DeskRemark, LessonReport, revision_of
from reportgen.saying.mail import what_changed
from reportgen.saying.readers import Reader
from tests.delivery.conftest import TODAY, Demo

PETRA = "petra-lumsgate"
WHEN = datetime(2026, 11, 25, 9, tzinfo=UTC)


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
        "addresses": {"petra@example.org": Reach("sent")}, "facts": as_mailed(about), "corrects": None, "state": "sent",
        "via": "smtp", "at": WHEN,
    }  # fmt: skip
    return replace(Entry(**usual), **changed)


def standing(about: LessonReport, state: Any, says: str = "", to: str = "petra@example.org", **changed: Any) -> Entry:
    """A mail that stands so with one address."""
    return entry(about, **{"addresses": {}, **changed}).after({to: Reach(state, says)}, WHEN)


def chosen(demo: Demo, *entries: Entry, reports: Any = None, **how: Any) -> tuple[list[Chosen], list[str]]:
    """What is sent, and what is said of the rest."""
    judged = {PETRA: reports or [demo.report(PETRA)]}
    lessons = {(name, report.lesson) for name, of in judged.items() for report in of}
    student = how.pop("student", demo.student(PETRA))

    def changed(then: Any, report: LessonReport) -> str | None:
        return what_changed(then, as_mailed(report), demo.library, Reader())

    found, held = choose(judged, {PETRA: student}, entries, Wanted(TODAY, **how), changed=changed, lessons=lessons)
    return list(found), [left.says for left in held]


def test_a_lesson_without_a_mail_goes(demo: Demo, now: LessonReport) -> None:
    found, held = chosen(demo)
    assert [(one.report.lesson, one.correction) for one in found] == [(now.lesson, None)]
    assert held == []


@pytest.mark.parametrize("correction", [False, True])
def test_a_lesson_whose_mail_went_is_done(demo: Demo, now: LessonReport, correction: bool) -> None:
    assert chosen(demo, entry(now), correction=correction) == ([], [])


def test_a_queued_mail_goes(demo: Demo, now: LessonReport) -> None:
    assert len(chosen(demo, standing(now, "queued"))[0]) == 1


@pytest.mark.parametrize("state", ["unknown", "sending"])
def test_a_mail_in_doubt_never_goes_by_itself(demo: Demo, now: LessonReport, state: str) -> None:
    found, held = chosen(demo, standing(now, state), correction=True)
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
    same = now.model_copy(update={"for_the_desk": (DeskRemark(code="other priorities"),)})
    assert chosen(demo, entry(same), correction=True) == ([], [])


@pytest.mark.parametrize("state", ["failed", "queued"])
def test_a_lesson_corrected_before_its_mail_arrived_goes_as_if_new(
    demo: Demo, before: LessonReport, state: str
) -> None:
    found, _ = chosen(demo, standing(before, state))
    assert [one.correction for one in found] == [None]


def test_a_correction_that_was_put_off_goes_as_a_correction(
    demo: Demo, now: LessonReport, before: LessonReport
) -> None:
    first, second = entry(before), standing(now, "queued", id=2, corrects=1)
    found, _ = chosen(demo, first, second)
    assert [(one.corrects, one.correction) for one in found] == [(first, "The notes changed.")]


@pytest.mark.parametrize(("state", "says"), [("failed", "550 no such user"), ("bounced", "5.1.1 unknown")])
def test_a_mail_that_did_not_arrive_waits_until_the_address_is_mended(
    demo: Demo, now: LessonReport, state: str, says: str
) -> None:
    found, held = chosen(demo, standing(now, state, says))
    assert found == []
    assert f"(petra@example.org: {says}). Mend the address, or use --resend 1" in held[0]
    mended = standing(now, state, says, to="perta@example.org")
    assert [one.addresses for one in chosen(demo, mended)[0]] == [("petra@example.org",)]


ONE, TWO, THREE = "petra@example.org", "petra@example.net", "petra@example.com"


def to_some(about: LessonReport, **states: str) -> Entry:
    """A mail that stands so with each of the three addresses, by the end of their domains."""
    addresses = {"org": ONE, "net": TWO, "com": THREE}
    happened = {addresses[end]: Reach(state) for end, state in states.items()}  # type: ignore[arg-type]
    return entry(about, addresses={}).after(happened, WHEN)


@pytest.mark.parametrize(
    ("mail", "goes_to"),
    [
        ({"org": "sent", "net": "queued", "com": "queued"}, (TWO, THREE)),
        ({"org": "sent", "net": "failed", "com": "queued"}, (THREE,)),
        ({"org": "sent", "net": "queued"}, (TWO, THREE)),
        ({"org": "sent", "net": "sent"}, None),
        ({"org": "sent", "net": "sent", "com": "sent"}, None),
        ({"org": "failed", "net": "failed"}, (THREE,)),
    ],
    ids=lambda case: " ".join(f"{end}-{state}" for end, state in case.items()) if isinstance(case, dict) else None,
)
def test_a_mail_goes_to_those_whom_it_waits_for_and_never_to_who_has_it(
    demo: Demo, now: LessonReport, mail: dict[str, str], goes_to: tuple[str, ...] | None
) -> None:
    student = demo.student(PETRA).model_copy(update={"mail": StudentMail(to=(ONE, TWO, THREE))})
    found, _ = chosen(demo, to_some(now, **mail), student=student)
    assert [one.addresses for one in found] == ([] if goes_to is None else [goes_to])
    assert all(one.to.addresses == (ONE, TWO, THREE) for one in found)


def test_who_was_missed_among_others_is_held_until_the_address_is_mended_or_taken_out(
    demo: Demo, now: LessonReport
) -> None:
    mail = to_some(now, org="sent", net="failed")

    def with_addresses(*addresses: str) -> tuple[list[tuple[str, ...]], list[str]]:
        student = demo.student(PETRA).model_copy(update={"mail": StudentMail(to=addresses)})
        found, held = chosen(demo, mail, student=student)
        return [one.addresses for one in found], held

    found, held = with_addresses(ONE, TWO)
    assert (found, held[0][:18]) == ([], "mail 1 was refused")
    assert TWO in held[0]
    assert with_addresses(ONE, THREE) == ([(THREE,)], [])
    assert with_addresses(ONE) == ([], [])


def test_who_was_waited_for_and_is_no_reader_any_more_gets_nothing(demo: Demo, now: LessonReport) -> None:
    found, held = chosen(demo, to_some(now, org="sent", net="queued"))
    assert ([one.addresses for one in found], held) == ([()], [])


def test_sent_again_it_goes_to_those_whom_it_missed(now: LessonReport) -> None:
    again = answered([to_some(now, org="sent", net="failed", com="bounced")], Answers(resend=frozenset({1})), WHEN)[0]
    assert (again.with_each("queued"), again.with_each("sent")) == ([TWO, THREE], [ONE])


def damaged(**readable: str) -> Entry:
    """A row of the journal of which this can still be read."""
    about = {"student": "", "lesson": "", "revision": "", **readable}
    return Entry(7, **about, message_id="", addresses={}, facts=None, corrects=None, state="damaged", via=None, at=WHEN)


@pytest.mark.parametrize("readable", [{}, {"student": PETRA}, {"student": PETRA, "lesson": "2026-11-24"}])
def test_what_a_damaged_row_may_be_about_is_not_sent_before_a_person_says_so(
    demo: Demo, readable: dict[str, str]
) -> None:
    found, held = chosen(demo, damaged(**readable))
    assert found == []
    assert "Ask whether it arrived, then use --arrived 7 or --resend 7." in held[0]
    assert answered([damaged()], Answers(resend=frozenset({7})), WHEN) == ()


def test_what_a_damaged_row_cannot_be_about_goes(demo: Demo, now: LessonReport) -> None:
    lessons = [lesson_on("2026-10-01", now), now]
    found, held = chosen(demo, damaged(student=PETRA, lesson="2026-10-01"), reports=lessons)
    assert ([one.report.lesson for one in found], held) == ([now.lesson], [])
    assert chosen(demo, damaged(), entry(now)) == ([], [])


def test_a_mail_of_which_nothing_is_known_any_more_is_corrected_in_general_words(
    demo: Demo, before: LessonReport
) -> None:
    found, _ = chosen(demo, entry(before, facts=None), correction=True)
    assert [one.correction for one in found] == ["The whole lesson was written again."]


def lesson_on(day: str, now: LessonReport) -> LessonReport:
    return now.model_copy(update={"lesson": day, "date": date.fromisoformat(day[:10])})


def test_the_latest_lesson_goes_or_all_since_a_day_or_those_still_queued(demo: Demo, now: LessonReport) -> None:
    lessons = [lesson_on(day, now) for day in ("2026-09-01", "2026-10-01", "2026-10-01-2", "2026-11-24")]

    def days(*entries: Entry, **how: Any) -> list[str]:
        return [one.report.lesson for one in chosen(demo, *entries, reports=lessons, **how)[0]]

    assert days() == ["2026-11-24"]
    assert days(since=date(2026, 10, 1)) == ["2026-10-01", "2026-10-01-2", "2026-11-24"]
    assert days(standing(lessons[0], "queued")) == ["2026-09-01", "2026-11-24"]
    assert days(since=date(2027, 1, 1)) == []


def test_a_student_without_an_address_is_held(demo: Demo, now: LessonReport) -> None:
    nobody = demo.student(PETRA).model_copy(update={"mail": StudentMail()})
    found, held = chosen(demo, student=nobody)
    assert found == []
    assert held == ["petra-lumsgate has no address. Write mail: [...] into student.yaml."]


def test_a_person_settles_a_doubt(now: LessonReport) -> None:
    doubt = standing(now, "unknown")
    assert answered([doubt], Answers(arrived=frozenset({1})), WHEN)[0].state == "sent"
    assert answered([doubt], Answers(resend=frozenset({1})), WHEN)[0].state == "queued"
    assert answered([doubt], Answers(), WHEN) == (doubt,)


def test_what_came_back_or_went_may_be_sent_again_on_a_persons_word(now: LessonReport) -> None:
    for before in (standing(now, "bounced", "full"), entry(now)):
        again = answered([before], Answers(resend=frozenset({1})), WHEN)[0]
        assert (again.state, again.missed) == ("queued", {})


@pytest.mark.parametrize("answers", [Answers(resend=frozenset({7})), Answers(arrived=frozenset({1}))])
def test_an_answer_to_no_question_is_told(now: LessonReport, answers: Answers) -> None:
    with pytest.raises(ReportgenError, match=r"no mail 7|no doubt about it"):
        answered([entry(now)], answers, WHEN)


@pytest.mark.parametrize(
    ("changed", "stands"),
    [
        ({"state": "sent"}, "mailed"),
        ({"state": "sent", "via": "outbox"}, "written"),
        ({"state": "bounced"}, "bounced"),
        ({"state": "failed"}, "refused"),
        ({"state": "failed", "addresses": {"petra@example.net": Reach("sent")}}, "in part"),
        ({"state": "unknown"}, "in doubt"),
        ({"state": "queued"}, "waiting"),
    ],
)
def test_the_desk_is_told_how_the_mail_about_the_latest_lesson_stands(
    now: LessonReport, changed: dict[str, Any], stands: str
) -> None:
    older = replace(entry(lesson_on("2026-09-01", now)), id=2)
    status = delivery_status([standing(now, **changed), older])
    assert {name: (d.lesson, d.standing, d.on) for name, d in status.items()} == {
        PETRA: (now.lesson, stands, date(2026, 11, 25))
    }
