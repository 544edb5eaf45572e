"""`reportgen send`, from an academy on the disk to a server or a folder."""

import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import strict
from pathlib import Path
from typing import cast

import pytest

from reportgen.delivery import making, send
from reportgen.delivery.journal import open_journal
from reportgen.delivery.rows import entries, put
from reportgen.publishing.publish import publish
from reportgen.sheets.academy_folder import StudentFolder
from tests.delivery.conftest import ACADEMY
from tests.delivery.post_office import PASSWORD, USER, PostOffice
from tests.publishing.small import reportgen
from tests.site.published import Page

ROOT = Path(__file__).parents[2]
PETRA, STOPPED = "petra-lumsgate", "bettina-halloran"
Run = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def school(tmp_path: Path) -> Path:
    """Two students of the demo, one of them stopped."""
    home = tmp_path / "school"
    home.mkdir()
    shutil.copy(ACADEMY / "academy.yaml", home)
    for name in (PETRA, STOPPED):
        shutil.copytree(ACADEMY / "students" / name, home / "students" / name)
    return home


@pytest.fixture
def run(school: Path) -> Run:
    """`reportgen send` in this process, where a recap that was printed once is not printed again."""

    def run_it(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
        with pytest.MonkeyPatch.context() as patch:
            for name, value in environment.items():
                patch.setenv(name, value)
            ended = reportgen("send", school, *arguments)
        return subprocess.CompletedProcess(arguments, ended.exit_code, ended.stdout, ended.stderr)

    return run_it


@pytest.fixture
def run_apart(school: Path) -> Run:
    """The same, each time in a process of its own."""

    def run_it(*arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "tests.printed_once", "send", str(school), *arguments],
            cwd=ROOT, capture_output=True, text=True, stdin=subprocess.DEVNULL,
        )  # fmt: skip

    return run_it


def mails_in(folder: Path) -> dict[str, EmailMessage]:
    files = {file.name[11:-13]: file.read_bytes() for file in folder.glob("*.eml")}
    return {name: cast(EmailMessage, message_from_bytes(data, policy=strict)) for name, data in files.items()}


def test_nothing_leaves_by_accident_and_nothing_is_written_twice(school: Path, run_apart: Run) -> None:
    done = run_apart()
    assert (done.returncode, done.stdout.splitlines()[-1]) == (0, "2 written into the outbox."), done.stderr
    outbox = school.with_name("school.outbox")
    assert sorted(mails_in(outbox)) == [STOPPED, PETRA]
    shutil.rmtree(outbox)
    again = run_apart()
    assert (again.returncode, again.stdout) == (0, "Nothing to send.\n")
    assert not outbox.exists()
    assert {path.name for path in school.iterdir()} == {"academy.yaml", "students"}


def test_the_recap_in_the_mail_is_the_published_one(school: Path, run: Run, tmp_path: Path) -> None:
    shutil.rmtree(school / "students" / STOPPED)
    publish(school, tmp_path / "site")
    published = {file.parent.name: file.read_bytes() for file in (tmp_path / "site").rglob("recap.pdf")}
    assert run("--to-outbox", str(tmp_path / "out")).returncode == 0
    for mail in mails_in(tmp_path / "out").values():
        recap = next(part for part in mail.iter_attachments() if part.get_content_type() == "application/pdf")
        lesson = re.sub(r"recap-(.*)\.pdf", r"\1", str(recap.get_filename()))
        assert recap.get_content() == published[lesson]


def test_by_smtp_each_lesson_arrives_once(school: Path, run: Run, post_office: PostOffice) -> None:
    server = {
        "REPORTGEN_SMTP_HOST": "localhost",
        "REPORTGEN_SMTP_PORT": str(post_office.port),
        "REPORTGEN_SMTP_USER": USER,
        "REPORTGEN_SMTP_PASSWORD": PASSWORD,
    }
    for says in ("2 sent.", "Nothing to send."):
        done = run("--smtp", "--per-minute", "6000", **server)
        assert (done.returncode, done.stdout.splitlines()[-1]) == (0, says), done.stderr
    assert [taken.addresses for taken in post_office.taken] == [("bettina@example.org",), ("petra@example.org",)]
    sheet = school / "students" / PETRA / "lessons" / "2026-11-24.yaml"
    sheet.write_text(sheet.read_text().replace("notes: |", "notes: |\n  One more thing."))
    held = run("--smtp", **server)
    assert held.returncode == 1
    assert "use --correction. What changed: The notes changed." in held.stderr
    done = run("--smtp", "--correction", **server)
    assert done.stdout.splitlines()[-1] == "1 sent."
    subjects = [message_from_bytes(taken.data)["Subject"] for taken in post_office.taken]
    assert subjects[2] == "Corrected: Your lesson of 24 November 2026"
    assert max(post_office.counts.values()) == 1


def test_a_dry_run_lists_and_leaves_nothing(school: Path, run: Run, tmp_path: Path) -> None:
    before = sorted(tmp_path.rglob("*"))
    done = run("--dry-run")
    assert done.stdout == f"{STOPPED} 2026-11-18 to bettina@example.org\n{PETRA} 2026-11-24 to petra@example.org\n"
    assert sorted(tmp_path.rglob("*")) == before


def test_a_student_without_an_address_does_not_keep_the_others(school: Path, run: Run) -> None:
    file = school / "students" / PETRA / "student.yaml"
    file.write_text(re.sub(r"mail: .*\n", "", file.read_text()))
    done = run()
    assert (done.returncode, done.stdout.splitlines()[-1]) == (1, "1 written into the outbox.")
    assert f"not sent: {PETRA} 2026-11-24: {PETRA} has no address." in done.stderr


def test_one_student_and_all_lessons_since_a_day(run: Run) -> None:
    done = run("--dry-run", "--student", STOPPED, "--since", "2026-10-20")
    assert done.stdout.splitlines() == [
        f"{STOPPED} 2026-10-28 to bettina@example.org",
        f"{STOPPED} 2026-11-18 to bettina@example.org",
    ]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--smtp"], "names no mail server"),
        (["--smtp", "--to-outbox", "out"], "not both"),
        (["--to-outbox", "{school}/out"], "lies in the academy"),
        (["--journal", "{school}/journal.sqlite"], "lies in the academy"),
        (["--student", "nobody"], "There is no student nobody"),
        (["--resend", "3"], "no mail 3"),
        (["--read-bounces", "none.mbox"], "no mail was sent yet"),
    ],
)
def test_what_cannot_be_done_is_told_in_a_line(school: Path, run: Run, arguments: list[str], says: str) -> None:
    done = run(*(argument.format(school=school) for argument in arguments))
    assert done.returncode == 2
    assert says in done.stderr
    assert "Traceback" not in done.stderr


def test_only_who_asks_for_it_has_a_locked_recap(school: Path, run: Run) -> None:
    with (school / "students" / PETRA / "student.yaml").open("a", encoding="utf-8") as sheet:
        sheet.write("lock_pdf: true\n")
    refused = run()
    assert refused.returncode == 2
    assert "There is no keyring" in refused.stderr
    mine = "seven herons at low tide"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("REPORTGEN_PASSPHRASE", mine)
        assert reportgen("members", "add", school, PETRA).exit_code == 0
    done = run(REPORTGEN_PASSPHRASE=mine)
    assert done.returncode == 0, done.stderr
    locked = {}
    for name, mail in mails_in(school.with_name("school.outbox")).items():
        (recap,) = [part for part in mail.iter_attachments() if part.get_content_type() == "application/pdf"]
        locked[name] = b"/Encrypt" in recap.get_content()
    assert locked == {PETRA: True, STOPPED: False}


def test_who_wants_it_gets_a_notice_and_the_others_the_report(school: Path, run: Run) -> None:
    with (school / "academy.yaml").open("a", encoding="utf-8") as sheet:
        sheet.write("site: https://lessons.example.org/golf\nmail: notice\n")
    stopped = school / "students" / STOPPED / "student.yaml"
    sheet_of_hers = stopped.read_text(encoding="utf-8")
    stopped.write_text(
        sheet_of_hers.replace("mail: [bettina@example.org]", "mail: {to: [bettina@example.org], as: report}")
    )
    listed = run("--dry-run").stdout.splitlines()
    assert listed[1] == f"{PETRA} 2026-11-24 to petra@example.org, as a notice"
    assert listed[0].endswith("to bettina@example.org")
    assert run().returncode == 0
    mails = mails_in(school.with_name("school.outbox"))
    assert [mails[name].is_multipart() for name in (PETRA, STOPPED)] == [False, True]
    said = mails[PETRA].get_content()
    assert re.search(r"^https://lessons\.example\.org/golf/s/[a-z2-7]{26}/\r$", said, re.MULTILINE)
    assert run().stdout == "Nothing to send.\n"


def test_the_journal_keeps_no_more_than_it_needs_and_forgets_in_time(school: Path, run: Run, tmp_path: Path) -> None:
    with (school / "academy.yaml").open("a", encoding="utf-8") as sheet:
        sheet.write("keep_days: 30\n")
    assert run().returncode == 0
    journal = school.with_name("school.journal.sqlite")
    for words in (b"pendulum", b"First time with a club", b"physiotherapist", b"Petra", b"strokes"):
        assert words not in journal.read_bytes()
    with open_journal(journal) as opened:
        for entry in entries(opened):
            put(opened, replace(entry, at=datetime(2026, 10, 1, tzinfo=UTC)))
    assert b"petra@example.org" in journal.read_bytes()
    again = run()
    assert (again.returncode, again.stdout) == (0, "Nothing to send.\n")
    for gone in (b"petra@example.org", b"bettina@example.org", b".eml", b"range"):
        assert gone not in journal.read_bytes()
    change = school / "students" / PETRA / "lessons" / "2026-11-24.yaml"
    change.write_text(change.read_text().replace("notes: |", "notes: |\n  One more thing."))
    assert "What changed: The whole lesson was written again." in run().stderr


def test_a_damaged_journal_is_told_and_holds_what_is_in_doubt(school: Path, run: Run, tmp_path: Path) -> None:
    assert run("--student", PETRA).returncode == 0
    journal = school.with_name("school.journal.sqlite")
    journal.write_bytes(journal.read_bytes().replace(b"petra-lumsgate2026-11-24", b"petra-lumsg\xfft\xff2026-11-24", 1))
    done = run()
    assert done.returncode == 1
    assert "damaged 1: the journal's line about this mail cannot be trusted" in done.stdout
    assert f"not sent: {PETRA} 2026-11-24: the journal's line about mail 1 is damaged" in done.stderr
    assert "no longer says which lesson it was about" in run("--arrived", "1").stderr
    published = reportgen("publish", school, "--to", tmp_path / "site", "--student", PETRA)
    assert published.exit_code == 0
    assert "so the desk says nothing of mail 1." in published.stderr
    assert run("--resend", "1").stdout.splitlines()[-1] == "2 written into the outbox."


def test_the_desk_tells_what_was_mailed_and_what_came_back(school: Path, run: Run, tmp_path: Path) -> None:
    site = tmp_path / "site"
    assert reportgen("publish", school, "--to", site).exit_code == 0
    assert "not mailed" in Page(site / "desk" / "index.html").text
    assert run("--student", PETRA).returncode == 0
    assert reportgen("publish", school, "--to", site).exit_code == 0
    desk = Page(site / "desk" / "index.html").text
    assert "written into the outbox on" in desk
    assert "not mailed" in desk
    assert run("--read-bounces", str(_came_back(school, tmp_path))).returncode == 0
    assert reportgen("publish", school, "--to", site).exit_code == 0
    assert "came back on" in Page(site / "desk" / "index.html").text


def _came_back(school: Path, folder: Path) -> Path:
    """A mailbox with a delivery status notification (RFC 3464) about Petra's mail."""
    mail = mails_in(school.with_name("school.outbox"))[PETRA]
    to = mail["To"].addresses[0].addr_spec
    box = folder / "returned.mbox"
    box.write_text(
        "From MAILER-DAEMON Wed Nov 25 10:00:00 2026\n"
        "From: MAILER-DAEMON@example.org\nTo: ilda@example.org\nSubject: Undelivered\nMIME-Version: 1.0\n"
        'Content-Type: multipart/report; report-type=delivery-status; boundary="B"\n\n'
        "--B\nContent-Type: text/plain\n\nIt could not be delivered.\n\n"
        "--B\nContent-Type: message/delivery-status\n\nReporting-MTA: dns; example.org\n\n"
        f"Final-Recipient: rfc822; {to}\nAction: failed\nStatus: 5.1.1\nDiagnostic-Code: smtp; 550 no such user\n\n"
        f"--B\nContent-Type: text/rfc822-headers\n\nMessage-ID: {mail['Message-ID']}\nTo: {to}\n\n--B--\n",
        encoding="utf-8",
    )
    return box


NOTHING_TO_MEND = """student: petra-lumsgate
date: 2026-11-24
club: 9-iron
readings: [{metric: pelvis-open-impact, value: 45, unit: deg, how: by-eye}]
"""


def test_mails_say_plainly_what_pages_made_before_them_escape(school: Path, run: Run, tmp_path: Path) -> None:
    shutil.rmtree(school / "students" / STOPPED)
    with (school / "students" / PETRA / "student.yaml").open("a", encoding="utf-8") as student:
        student.write("language: fr\n")
    (school / "students" / PETRA / "lessons" / "2026-11-24.yaml").write_text(NOTHING_TO_MEND, encoding="utf-8")
    publish(school, tmp_path / "site")
    assert run("--to-outbox", str(tmp_path / "out")).returncode == 0
    plain = mails_in(tmp_path / "out")[PETRA].get_body(("plain",))
    assert plain is not None
    assert "Rien n’est nettement hors de votre fourchette." in " ".join(plain.get_content().split())


def _falls_into_a_bug(real: Callable[..., object], student: str) -> Callable[..., object]:
    def judged(folder: StudentFolder, *more: object) -> object:
        if folder.id == student:
            raise KeyError("what nobody thought of")
        return real(folder, *more)

    return judged


def test_an_error_that_nobody_thought_of_holds_back_one_students_mail(
    school: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(send, "reports_of", _falls_into_a_bug(send.reports_of, PETRA))
    done = reportgen("send", school)
    assert done.exit_code == 1
    assert f"not sent: {PETRA} 2026-11-24: students/{PETRA}:1:1: the pages could not be made (KeyError" in done.stderr
    assert sorted(mails_in(school.with_name("school.outbox"))) == [STOPPED]


def test_a_mail_that_cannot_be_made_is_left_for_the_next_run(school: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(making, "week_calendar", _bug)
        done = reportgen("send", school)
    assert done.exit_code == 1
    assert f"{PETRA} 2026-11-24: students/{PETRA}:1:1: the pages could not be made (KeyError" in done.stdout
    assert reportgen("send", school).exit_code == 0
    assert PETRA in mails_in(school.with_name("school.outbox"))


def _bug(*_: object) -> None:
    raise KeyError("what nobody thought of")


def test_a_mail_in_the_outbox_is_named_where_a_server_is_asked_next(run: Run, post_office: PostOffice) -> None:
    run("--student", PETRA)
    server = post_office.server()
    office = {
        "REPORTGEN_SMTP_HOST": server.host,
        "REPORTGEN_SMTP_PORT": str(server.port),
        "REPORTGEN_SMTP_USER": USER,
        "REPORTGEN_SMTP_PASSWORD": PASSWORD,
    }
    done = run("--smtp", "--student", PETRA, **office)
    assert re.search(
        rf"in the outbox already 1 {PETRA} \S+\. To send it by the server too, use --resend 1\n", done.stdout
    )
    assert post_office.taken == []
    run("--smtp", "--student", PETRA, "--resend", "1", **office)
    assert len(post_office.taken) == 1
