"""Publish, send and upload from the desk: as the commands do it, one at a time in the background."""

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from subprocess import Popen
from threading import Lock
from typing import Literal

from reportgen.delivery.choosing import Wanted
from reportgen.delivery.doubts import in_doubt, settle
from reportgen.delivery.journal import journal_of
from reportgen.delivery.making import goes_as
from reportgen.delivery.outbox import outbox_of
from reportgen.delivery.reading import reading_of
from reportgen.delivery.send import Outcome, Person, send_mails, would_be_sent, would_send
from reportgen.delivery.sending import ByServer
from reportgen.delivery.server import FILE, server_from
from reportgen.delivery.showing import ShownMail, shown_mail
from reportgen.delivery.status import mailed_so_far
from reportgen.desk.jobs import Jobs, What
from reportgen.desk.upload import Uploaded, command_of, run
from reportgen.errors import ReportgenError
from reportgen.languages.speaking import say
from reportgen.pipeline import load
from reportgen.preview.watched import Watched
from reportgen.publishing.foresee import Foreseen, would_publish
from reportgen.publishing.options import PublishOptions
from reportgen.publishing.publish import Published, Reporting, publish
from reportgen.sealing.keyring import Keyring
from reportgen.sealing.members import opened_keyring
from reportgen.sealing.passphrases import FILE_VARIABLE, VARIABLE, NoPassphraseError, instructors_passphrase
from reportgen.sealing.privacy import contradiction, is_private, keyring_of, keyring_where_sealed
from reportgen.sheets.academy_folder import AcademyFolder, Home, sound
from reportgen.sheets.today import build_day

By = Literal["outbox", "server"]


@dataclass(frozen=True)
class Going:
    """A mail that would go: about whom, about which lesson, to whom, whether as a notice alone."""

    student: str
    lesson: str
    addresses: tuple[str, ...]
    notice: bool


@dataclass(frozen=True)
class WouldGo:
    """The mails that would go, and those held back: student, lesson, why. `again` tells that lessons which changed
    after their mail went are among them."""

    mails: tuple[Going, ...]
    held: tuple[tuple[str, str, str], ...]
    again: bool


@dataclass(frozen=True)
class Doubt:
    """A mail of that number that may have arrived, about whom, about which lesson, to whom, and what is known of it."""

    mail: int
    student: str
    lesson: str
    addresses: tuple[str, ...]
    why: str


class SiteWork:
    """The site of one academy and its mails. The instructor's passphrase is kept in memory while the desk is open, and
    nowhere else. Every method may be called from any thread."""

    def __init__(self, root: Path, to: Path, watched: Watched) -> None:
        self.root, self.to, self.jobs = root, to, Jobs()
        self.journal, self.outbox = journal_of(root), outbox_of(root)
        self._watched, self._word = watched, ""
        self._confirmed: set[tuple[str, ...]] = set()
        self._process: Popen[str] | None = None
        self._mail_lock = Lock()
        self._mail: tuple[tuple[str, str], ShownMail | None, str] | None = None

    @property
    def server(self) -> str | None:
        """The mail server that is set up; None without one."""
        if FILE not in os.environ and not os.environ.get("REPORTGEN_SMTP_HOST"):
            return None
        try:
            return server_from(os.environ).host
        except ReportgenError:
            return None

    @property
    def locked(self) -> bool:
        """Whether the keyring is needed, and nobody has given the passphrase yet."""
        academy = self._watched.folder.academy
        if self._word or academy is None or os.environ.get(VARIABLE) or os.environ.get(FILE_VARIABLE):
            return False
        wanted = is_private(Home(self.root, academy)) or any(
            one.student and one.student.lock_pdf for one in self._watched.folder.students.values()
        )
        return wanted and keyring_of(self.root).exists()

    def unlock(self, word: str) -> None:
        """Keep the instructor's passphrase. Raises KeyringError where it opens nothing."""
        opened_keyring(self.root, lambda: word)
        self._word = word

    def _ask(self) -> str:
        if self._word:
            return self._word
        try:
            return instructors_passphrase(None)
        except NoPassphraseError:
            raise NoPassphraseError(say("Your passphrase is needed first.")) from None

    def _begin(self, what: What, work: Callable[[], object]) -> bool:
        return self.jobs.start(what, work, self._watched.language())

    def publish(self, student: str | None, *, dry: bool) -> bool:
        """Begin to publish, or to find out what a publish would do; False while another job is at work."""
        if dry:
            return self._begin("would publish", lambda: self._would_publish(student))
        return self._begin("publish", lambda: self._publish(student))

    def _keyring(self, home: Home) -> Keyring | None:
        return keyring_where_sealed(home, self._ask)

    def _would_publish(self, student: str | None) -> Foreseen:
        return would_publish(self.root, self.to, PublishOptions(student), keyring=self._keyring)

    def _publish(self, student: str | None) -> Published:
        return publish(
            self.root,
            self.to,
            PublishOptions(student),
            keyring=self._keyring,
            mailed=mailed_so_far(self.journal, self.jobs.tell),
            reporting=Reporting(self.jobs.tell, self.jobs.progress),
        )

    def send(self, student: str | None, by: By, *, correction: bool, dry: bool) -> bool:
        """Begin to send, or to find out what would go; False while another job is at work."""
        if dry:
            return self._begin("would send", lambda: self._would_send(student, correction=correction))
        return self._begin("send", lambda: self._send(student, by, correction=correction))

    def _loaded(self, student: str | None) -> AcademyFolder:
        """The academy; drafts are none of its lessons. Raises ReportgenError where nothing can be sent."""
        folder = load(self.root, student)
        if (against := contradiction(folder.academy, folder.root)) is not None:
            raise ReportgenError(str(against))
        sound(folder)
        return folder

    def _wanted(self, folder: AcademyFolder, student: str | None, *, correction: bool) -> Wanted:
        return Wanted(build_day(sound(folder).academy), student, correction=correction)

    def _would_send(self, student: str | None, *, correction: bool) -> WouldGo:
        folder = self._loaded(student)
        chosen, held = would_send(folder, self.journal, self._wanted(folder, student, correction=correction))
        academy = sound(folder).academy
        mails = tuple(
            Going(
                one.report.student,
                one.report.lesson,
                one.addresses,
                (whose := folder.students[one.report.student].student) is not None
                and goes_as(whose, academy) == "notice",
            )
            for one in chosen
            if one.addresses
        )
        return WouldGo(mails, tuple((one.student, one.lesson, one.says) for one in held), correction)

    def _send(self, student: str | None, by: By, *, correction: bool) -> Outcome:
        folder = self._loaded(student)
        to = ByServer(server_from(os.environ)) if by == "server" else self.outbox
        wanted = self._wanted(folder, student, correction=correction)
        reading = reading_of(folder, self._ask)
        return send_mails(folder, self.journal, to, wanted, reading=reading, person=Person(tell=self.jobs.tell))

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """The mails that may have arrived; none while a job of the desk is at work, or where the journal cannot be
        read, which whoever sends is told."""
        if self.jobs.state.running:
            return ()
        try:
            known = in_doubt(self.journal)
        except ReportgenError:
            return ()
        return tuple(Doubt(one.id, one.student, one.lesson, tuple(one.addresses), one.why) for one in known)

    def settle(self, mail: int, *, arrived: bool) -> None:
        """Keep the instructor's word on a mail in doubt. Raises ReportgenError."""
        settle(self.journal, mail, arrived=arrived)
        with self._mail_lock:
            self._mail = None

    def mail(self, student: str, *, correction: bool = False) -> tuple[ShownMail | None, str]:
        """The mail about a student's latest lesson as it would go, or why none goes. Raises LookupError where nobody
        has that id, ReportgenError, OSError."""
        if student not in self._watched.folder.students:
            raise LookupError(student)
        state = (student, f"{self._watched.version} {self.jobs.state.number} {bool(self._word)} {correction}")
        with self._mail_lock:
            if self._mail is None or self._mail[0] != state:
                self._mail = (state, *self._made(student, correction=correction))
            return self._mail[1:]

    def _made(self, student: str, *, correction: bool) -> tuple[ShownMail | None, str]:
        folder = self._loaded(student)
        told: list[str] = []
        wanted = self._wanted(folder, student, correction=correction)
        reading = reading_of(folder, self._ask)
        held = would_send(folder, self.journal, wanted)[1]
        letter = next(would_be_sent(folder, self.journal, wanted, reading, told.append), None)
        told += [one.says for one in held]
        return (shown_mail(letter) if letter else None), " ".join(told)

    @property
    def upload_with(self) -> tuple[str, ...] | None:
        """The words of the instructor's own command; None without one."""
        academy = self._watched.folder.academy
        return academy.upload_with if academy else None

    @property
    def command(self) -> list[str] | None:
        """That command as it would run."""
        return command_of(self.upload_with, self.to / "upload") if self.upload_with else None

    @property
    def confirmed(self) -> bool:
        """Whether the instructor has seen this command and let it run, since the desk was opened."""
        return self.upload_with in self._confirmed

    def upload(self, seen: tuple[str, ...] | None) -> bool:
        """Begin to upload; False while another job is at work. `seen` is the command that the instructor has just read
        and lets run. Raises ReportgenError where it has not been seen, or nothing is published yet."""
        words, command = self.upload_with, self.command
        if words is None or command is None:
            raise ReportgenError(say("academy.yaml has no upload_with."))
        if not self.confirmed and seen != tuple(command):
            raise ReportgenError(say("The command has changed. Read it again before it runs."))
        if not (self.to / "upload").is_dir():
            raise ReportgenError(say("Nothing is published yet. Publish first."))
        self._confirmed.add(words)
        return self._begin("upload", lambda: self._upload(command))

    def _upload(self, command: list[str]) -> Uploaded:
        def begun(process: Popen[str]) -> None:
            self._process = process

        try:
            return run(command, self.root, self.jobs.tell, begun)
        finally:
            self._process = None

    def stop_upload(self) -> None:
        """End the command that uploads, where it runs."""
        process = self._process
        if process is not None:
            process.terminate()
