"""The command that mails recaps."""

import os
import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from reportgen.commands.shared import (
    FOLDER,
    SOME_PROBLEMS,
    instructors_word,
    known_student,
    loaded,
    print_problems,
    told,
)

if TYPE_CHECKING:
    from reportgen.delivery.journal import Entry


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
    from reportgen.delivery.choosing import Answers
    from reportgen.delivery.journal import journal_of
    from reportgen.delivery.outbox import outbox_of
    from reportgen.delivery.send import Wanted, send_mails, would_send
    from reportgen.delivery.sending import Pace
    from reportgen.delivery.server import server_from
    from reportgen.publishing.addresses import page_address
    from reportgen.publishing.members import pdf_lock
    from reportgen.publishing.privacy import is_private

    if smtp and outbox is not None:
        raise click.UsageError("Give --smtp or --to-outbox, not both.")
    with told():
        file = journal or journal_of(academy)
        if bounces is not None:
            for line in read_bounces(file, bounces):
                click.echo(line)
            return
        folder = loaded(academy)
        print_problems(folder)
        if student is not None:
            known_student(folder, student)
        answers = Answers(frozenset(resend), frozenset(arrived))
        wanted = Wanted(student, since.date() if since else None, correction, answers)
        if dry_run:
            chosen, held = would_send(folder, file, wanted)
            for one in chosen:
                click.echo(f"{one.report.student} {one.report.lesson} to {', '.join(one.to.addresses)}")
        else:
            done = send_mails(
                folder,
                file,
                server_from(os.environ) if smtp else outbox or outbox_of(academy),
                wanted,
                pace=Pace(per_minute),
                page_of=lambda report, of: page_address(report, of, sealed=is_private(of, folder.root)),
                lock=pdf_lock(folder, instructors_word, everybody=lock_pdf),
                ask=_ask_about,
                tell=click.echo,
            )
            held = done.held
        for left in held:
            click.echo(f"not sent: {left.student} {left.lesson}: {left.says}", err=True)
        if not dry_run:
            click.echo(done.says)
        if folder.problems or held or (not dry_run and not done.well):
            sys.exit(SOME_PROBLEMS)


def _ask_about(doubt: "Entry") -> str:
    """A person's word on a mail that may have arrived; none where nobody is there to ask."""
    if not sys.stdin.isatty():
        return "later"
    click.echo(f"Mail {doubt.id}, {doubt.student} {doubt.lesson} to {', '.join(doubt.addresses)}: {doubt.says}.")
    return str(click.prompt("Did it arrive?", type=click.Choice(["arrived", "resend", "later"]), default="later"))
