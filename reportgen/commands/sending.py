"""The command that mails recaps."""

import os
import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from reportgen.commands.shared import (
    COULD_NOT_RUN,
    FOLDER,
    SOME_PROBLEMS,
    instructors_word,
    known_student,
    leave,
    leaving_on_errors,
    loaded,
    print_problems,
)

if TYPE_CHECKING:
    from collections.abc import Iterable

    from reportgen.delivery.choosing import Held, Wanted
    from reportgen.delivery.entry import Entry
    from reportgen.delivery.sending import ByServer
    from reportgen.sheets.academy_folder import AcademyFolder


@click.command()
@click.argument("academy", type=FOLDER)
@click.option(
    "--to-outbox", "outbox", type=FOLDER, help="Write .eml files into this folder; ACADEMY.outbox by default."
)
@click.option("--smtp", is_flag=True, help="Send to the mail server of REPORTGEN_SMTP_HOST or REPORTGEN_SMTP_FILE.")
@click.option("--dry-run", is_flag=True, help="List who would get what, and write nothing.")
@click.option("--student", metavar="ID", help="Only this student.")
@click.option("--since", type=click.DateTime(["%Y-%m-%d"]), help="All lessons from this day on, not the latest alone.")
@click.option("--correction", is_flag=True, help="Send again what changed since it was sent, saying what changed.")
@click.option("--resend", type=int, multiple=True, metavar="MAIL", help="Send this mail again, by its number.")
@click.option("--arrived", type=int, multiple=True, metavar="MAIL", help="This mail, which was in doubt, has arrived.")
@click.option(
    "--read-bounces", "bounces", type=FOLDER, help="Note what came back to this mbox or folder; send nothing."
)
@click.option("--journal", type=FOLDER, help="What was sent is noted here; ACADEMY.journal.sqlite by default.")
@click.option(
    "--lock-pdf",
    is_flag=True,
    help="Encrypt every recap PDF with its reader's passphrase (AES-256), not only where student.yaml asks for it.",
)
@click.option(
    "--per-minute", type=click.IntRange(1, 6000), default=30, show_default=True, help="Mails at most, by SMTP."
)
def send(
    academy: Path,
    outbox: Path | None,
    smtp: bool,
    dry_run: bool,
    student: str | None,
    since: datetime | None,
    correction: bool,
    resend: tuple[int, ...],
    arrived: tuple[int, ...],
    bounces: Path | None,
    journal: Path | None,
    lock_pdf: bool,
    per_minute: int,
) -> None:
    """Send the recap of each student's latest lesson, once: as files for a mail program, or by SMTP."""
    from reportgen.delivery.bounces import read_bounces
    from reportgen.delivery.choosing import Answers, Wanted
    from reportgen.delivery.journal import journal_of
    from reportgen.delivery.outbox import outbox_of
    from reportgen.delivery.sending import ByServer, Pace
    from reportgen.delivery.server import server_from
    from reportgen.sheets.academy_folder import sound
    from reportgen.sheets.today import build_day

    if smtp and outbox is not None:
        raise click.UsageError("Give --smtp or --to-outbox, not both.")
    with leaving_on_errors():
        file = journal or journal_of(academy)
        if bounces is not None:
            for line in read_bounces(file, bounces):
                click.echo(line)
            return
        folder = _ready(academy, student)
        answers = Answers(frozenset(resend), frozenset(arrived))
        on = build_day(sound(folder).academy)
        wanted = Wanted(on, student, since.date() if since else None, correction, answers)
        if dry_run:
            well = _list(folder, file, wanted)
        else:
            to = ByServer(server_from(os.environ), Pace(per_minute)) if smtp else outbox or outbox_of(academy)
            well = _send(folder, file, to, wanted, lock_pdf=lock_pdf)
        if folder.problems or not well:
            sys.exit(SOME_PROBLEMS)


def _ready(academy: Path, student: str | None) -> "AcademyFolder":
    """The academy with its problems told; leaves where nothing can be sent."""
    from reportgen.sealing.privacy import contradiction

    folder = loaded(academy)
    print_problems(folder)
    if (against := contradiction(folder.academy, folder.root)) is not None:
        leave(COULD_NOT_RUN, f"{against} Nothing is sent before: mails say where the pages are, and how to read them.")
    if student is not None:
        known_student(folder, student)
    return folder


def _list(folder: "AcademyFolder", journal: Path, wanted: "Wanted") -> bool:
    """Print who would get what; whether nothing is held back."""
    from reportgen.delivery.making import goes_as
    from reportgen.delivery.send import would_send
    from reportgen.sheets.academy_folder import sound

    home = sound(folder)
    chosen, held = would_send(folder, journal, wanted)
    for one in (one for one in chosen if one.addresses):
        whose = folder.students[one.report.student].student
        notice = ", as a notice" if whose and goes_as(whose, home.academy) == "notice" else ""
        click.echo(f"{one.report.student} {one.report.lesson} to {', '.join(one.addresses)}{notice}")
    _tell_held(held)
    return not held


def _send(folder: "AcademyFolder", journal: Path, to: "ByServer | Path", wanted: "Wanted", *, lock_pdf: bool) -> bool:
    """Send what is wanted; whether all went that was to go."""
    from reportgen.delivery.reading import reading_of
    from reportgen.delivery.send import Person, send_mails

    reading = reading_of(folder, instructors_word, everybody=lock_pdf)
    done = send_mails(folder, journal, to, wanted, reading=reading, person=Person(_ask_about, click.echo))
    _tell_held(done.held)
    click.echo(done.says)
    return done.well


def _tell_held(held: "Iterable[Held]") -> None:
    for left in held:
        click.echo(f"not sent: {left.student} {left.lesson}: {left.says}", err=True)


def _ask_about(doubt: "Entry") -> str:
    """A person's word on a mail that may have arrived; none where nobody is there to ask."""
    if not sys.stdin.isatty():
        return "later"
    click.echo(f"Mail {doubt.id}, {doubt.student} {doubt.lesson} to {', '.join(doubt.addresses)}: {doubt.says}.")
    return str(click.prompt("Did it arrive?", type=click.Choice(["arrived", "resend", "later"]), default="later"))
