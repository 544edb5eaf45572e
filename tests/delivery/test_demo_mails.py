"""The mails of the whole demo: sound, saying nothing of others, and well to read in a terminal."""

import fcntl
import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import strict
from pathlib import Path
from typing import cast

import pytest
import yaml

from reportgen.delivery.choosing import Wanted
from reportgen.delivery.journal import read_entries
from reportgen.delivery.plain_text import COLUMNS
from reportgen.delivery.send import send_mails
from reportgen.pipeline import load
from tests.delivery.conftest import ACADEMY, TODAY

STUDENTS = {f.name: yaml.safe_load((f / "student.yaml").read_text()) for f in sorted((ACADEMY / "students").iterdir())}
ROWS = 400


@pytest.fixture(scope="session")
def mails(tmp_path_factory: pytest.TempPathFactory) -> dict[str, EmailMessage]:
    """The mail about each student's latest lesson, by the student's id; made once for all workers of a test run."""
    own = tmp_path_factory.getbasetemp()
    shared = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    outbox, journal = shared / "demo-outbox", shared / "demo-journal.sqlite"
    with (shared / "demo-outbox-lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not journal.exists():
            send_mails(load(ACADEMY), journal, outbox, Wanted(TODAY))
    placed = {entry.student: outbox / entry.says for entry in read_entries(journal)}
    return {n: cast(EmailMessage, message_from_bytes(f.read_bytes(), policy=strict)) for n, f in placed.items()}


def plain(mail: EmailMessage) -> str:
    body = mail.get_body(("plain",))
    assert body is not None
    return str(body.get_content())


def texts(mail: EmailMessage) -> Iterator[str]:
    """Everything that a mail says: headers, bodies, names of files, and the words of its PDF."""
    for part in mail.walk():
        yield "\n".join(f"{name}: {value}" for name, value in part.items())
        if part.get_content_maintype() == "text":
            yield str(part.get_content())
        elif part.get_content_type() == "application/pdf":
            told = subprocess.run(["pdftotext", "-", "-"], input=part.get_content(), capture_output=True, check=True)
            yield told.stdout.decode()


def test_no_mail_shows_a_straight_apostrophe_or_quotation_mark(mails: dict[str, EmailMessage]) -> None:
    for mail in mails.values():
        assert re.findall(r".{0,30}['\"].{0,30}", f"{mail['subject']}\n{plain(mail)}") == []


def test_no_plain_text_carries_an_asterisk(mails: dict[str, EmailMessage]) -> None:
    assert [student for student, mail in mails.items() if "*" in plain(mail)] == []


def test_every_student_has_a_mail_without_defects_under_5_mb(mails: dict[str, EmailMessage]) -> None:
    assert sorted(mails) == sorted(STUDENTS)
    for mail in mails.values():
        assert [part.defects for part in mail.walk() if part.defects] == []
        assert [value for part in mail.walk() for value in part.values() if value.defects] == []
        assert len(mail.as_bytes()) < 5_000_000


def test_every_mail_goes_to_the_student_or_the_guardian(mails: dict[str, EmailMessage]) -> None:
    for name, mail in mails.items():
        written = STUDENTS[name]
        minor = "guardian" in written
        assert [to.addr_spec for to in mail["To"].addresses] == (
            [written["guardian"]["mail"]] if minor else written["mail"]
        )


def test_no_mail_names_another_student_a_secret_or_this_machine(mails: dict[str, EmailMessage]) -> None:
    secret = yaml.safe_load((ACADEMY / "academy.yaml").read_text())["secret"]
    machine = [str(ACADEMY.parents[1]), str(Path.home()) + "/", os.uname().nodename, "file:"]
    for name, mail in mails.items():
        said = "\n".join(texts(mail))
        allowed = STUDENTS[name]["name"] + " " + STUDENTS[name].get("guardian", {}).get("name", "")
        others = {word for other, of in STUDENTS.items() if other != name for word in [other, *of["name"].split()]}
        others -= set(allowed.split())
        found = re.findall(rf".*\b(?:{'|'.join(map(re.escape, sorted(others)))})\b.*", said)
        assert found == [], name
        assert [word for word in (secret, *machine) if word in said] == [], name
        assert STUDENTS[name].get("about", "\0") not in " ".join(said.split())


def test_a_minors_surname_and_birthday_are_not_said(mails: dict[str, EmailMessage]) -> None:
    for name, written in STUDENTS.items():
        if "guardian" in written:
            bodies = "\n".join(list(texts(mails[name]))[1:])
            surname = written["name"].split()[-1]
            assert surname not in bodies.replace(written["guardian"]["name"], "")
            assert str(written["born"]) not in bodies


def test_a_week_of_practice_comes_as_a_calendar_and_a_stop_has_none(mails: dict[str, EmailMessage]) -> None:
    kinds = {name: [part.get_content_type() for part in mail.iter_attachments()] for name, mail in mails.items()}
    assert kinds["bettina-halloran"] == ["application/pdf"]
    assert kinds["duarte-pemberlow"] == ["application/pdf", "text/calendar"]


def test_no_line_of_the_text_is_wider_than_72_columns(mails: dict[str, EmailMessage]) -> None:
    for name, mail in mails.items():
        assert [line for line in plain(mail).splitlines() if len(line) > COLUMNS] == [], name


def _shown_by_mutt(mail: EmailMessage, folder: Path) -> list[str]:
    """The screen of a terminal of 72 columns, tall enough for the whole mail, with the mail opened in mutt."""
    box = folder / "inbox"
    box.write_bytes(
        b"From ilda@example.org Tue Nov 24 12:00:00 2026\n" + mail.as_bytes().replace(b"\r\n", b"\n") + b"\n"
    )
    (folder / "muttrc").write_text(
        f"set folder={folder}\nset quit=yes\nset move=no\nset pager_index_lines=0\nset send_charset=utf-8\n"
    )
    environment = {**os.environ, "LC_ALL": "C.UTF-8", "HOME": str(folder), "TERM": "screen"}
    tmux = ["tmux", "-u", "-f", "/dev/null", "-S", str(folder / "tmux")]

    def screen() -> list[str]:
        shown = subprocess.run([*tmux, "capture-pane", "-p"], env=environment, capture_output=True, text=True)
        return shown.stdout.splitlines()

    command = f"mutt -n -R -F {folder}/muttrc -f {box} -e 'push <display-message>'"
    subprocess.run(
        [*tmux, "new-session", "-d", "-x", str(COLUMNS), "-y", str(ROWS), command], env=environment, check=True
    )
    try:
        last = plain(mail).splitlines()[-1]
        for _ in range(2000):  # each look at the screen takes some milliseconds
            lines = screen()
            if last in lines:
                return lines
        raise AssertionError("mutt did not show the mail:\n" + "\n".join(lines))
    finally:
        subprocess.run([*tmux, "kill-server"], env=environment, check=True)


@pytest.mark.parametrize("name", ["duarte-pemberlow", "bettina-halloran", "miro-tavenhall"])
def test_a_text_client_shows_the_plain_part_as_it_is(mails: dict[str, EmailMessage], name: str, tmp_path: Path) -> None:
    missing = [tool for tool in ("mutt", "tmux") if shutil.which(tool) is None]
    assert missing == [], f"Install as root: apt-get install {' '.join(missing)}"
    shown = _shown_by_mutt(mails[name], tmp_path)
    written = plain(mails[name]).splitlines()
    begins = shown.index(written[0])
    assert shown[begins : begins + len(written)] == written
