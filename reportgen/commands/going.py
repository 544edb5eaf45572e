"""The commands for somebody who goes, or asks what is held about them."""

from pathlib import Path

import click

from reportgen.commands.shared import (
    FOLDER,
    SOME_PROBLEMS,
    instructors_word,
    known_student,
    leave,
    leaving_on_errors,
    loaded,
    print_problems,
)


@click.command()
@click.argument("academy", type=FOLDER)
@click.argument("student")
@click.option("--to", "sites", type=FOLDER, multiple=True, metavar="DIR", help="A published folder elsewhere; repeat.")
@click.option("--journal", type=FOLDER, help="The journal of mails, where it does not stand beside ACADEMY.")
@click.option("--outbox", type=FOLDER, help="The folder of mails; ACADEMY.outbox by default.")
@click.option("--dry-run", is_flag=True, help="List what would be removed, and change nothing.")
def forget(
    academy: Path, student: str, sites: tuple[Path, ...], journal: Path | None, outbox: Path | None, dry_run: bool
) -> None:
    """Take STUDENT out of everything beside ACADEMY: pages, notes, journal, outbox, letters, recaps, keyring.

    ACADEMY itself is yours: their folder is not touched, and need not be there any more. What only you can remove is
    listed.
    """
    from reportgen.delivery.journal import journal_of
    from reportgen.delivery.outbox import outbox_of
    from reportgen.personal_data.forget import Places
    from reportgen.personal_data.forget import forget as forget_student
    from reportgen.publishing.build_plan import student_names
    from reportgen.sheets.problems import nearest

    with leaving_on_errors():
        places = Places(sites, journal or journal_of(academy), outbox or outbox_of(academy), Path.cwd())
        done = forget_student(academy, student, places, instructors_word, dry_run=dry_run)
        for removed in done.removed:
            click.echo(f"{'would remove' if dry_run else 'removed'} {removed}")
        if not done.removed or not done.known:
            names = student_names(academy)
            meant = "" if student in names else nearest(student, names, "")
            click.echo(f"Nothing of {student} is left beside {academy}. {meant}".strip())
        if done.left:
            click.echo("Only you can remove:")
        for left in done.left:
            click.echo(f"  {left}")


@click.command()
@click.argument("academy", type=FOLDER)
@click.argument("student")
@click.option("--to", "to", type=FOLDER, required=True, metavar="ZIP", help="The archive to write.")
@click.option("--journal", type=FOLDER, help="The journal of mails, where it does not stand beside ACADEMY.")
@click.option("--outbox", type=FOLDER, help="The folder of mails; ACADEMY.outbox by default.")
def export(academy: Path, student: str, to: Path, journal: Path | None, outbox: Path | None) -> None:
    """Write all that is held about STUDENT into an archive to hand over: sheets, pictures, values, recaps, mails."""
    from reportgen.delivery.journal import journal_of, read_entries
    from reportgen.delivery.outbox import outbox_of
    from reportgen.history import history_csv
    from reportgen.personal_data.export import export_student

    with leaving_on_errors():
        folder = loaded(academy, student)
        known_student(folder, student)
        known = read_entries(journal or journal_of(academy))
        done = export_student(folder, student, to, known, outbox or outbox_of(academy), history_csv)
        for left in done.left_out:
            click.echo(f"left out {left}: a link, or a file that cannot be read", err=True)
        click.echo(to)
        if not done.judged:
            print_problems(folder)
            leave(SOME_PROBLEMS, "No judged lessons are in it: there are none, or the sheets have problems.")
